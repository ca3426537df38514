//! Freezing the plan of a round played under the Rules: the whole of it, in `plans/`, before the first score.

use crate::plan::{Aimed, FROZEN_FORMAT, Frozen, FrozenHole, plan, price};
use crate::round::{Event, RoundState};
use crate::session::Session;
use crate::store::{Expect, Limit, Store, StoreError, now, read};
use crate::units::digest::Digest;
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

/// Works the plan of every hole out for every player.
pub fn plans(session: &Session) -> Frozen {
    plans_for(session, session.aimed())
}

/// The same for another aim than the day's.
pub fn plans_for(session: &Session, aimed: Aimed) -> Frozen {
    let never = AtomicBool::new(false);
    let boxes: Vec<(usize, usize)> =
        (0..session.golfers.len()).flat_map(|p| (0..session.order.len()).map(move |h| (p, h))).collect();
    let holes = boxes
        .par_iter()
        .filter_map(|(player, position)| {
            let units = session.golfers.get(*player)?.units;
            let question = session.question(*position, *player, None, aimed, units)?;
            let mut made = plan(&question, &never).ok()?;
            price(&question, &mut made, &never).ok()?;
            Some(FrozenHole { player: *player, position: *position, plan: made })
        })
        .collect();
    Frozen {
        format: FROZEN_FORMAT.to_owned(),
        at: now(),
        course: session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default(),
        holes,
    }
}

/// Writes a frozen plan and gives the event that names it.
///
/// # Errors
/// [`StoreError`] when it cannot be written.
pub fn freeze(store: &Store, round: &RoundState, frozen: &Frozen) -> Result<Event, StoreError> {
    let stamp = round.opening().id.as_str().to_owned();
    let bytes = serde_json::to_vec_pretty(frozen).unwrap_or_default();
    let folder = store.shelf().plans();
    store.make_folder(&folder)?;
    store.save(&folder.join(format!("{stamp}.json")), &bytes, Expect::New)?;
    Ok(Event::PlanFrozen { stamp, digest: Digest::of(&bytes) })
}

/// The frozen plan of a round, from the shelf that its log lies on; the words say what is wrong when it cannot be trusted.
pub fn frozen(round: &RoundState, log: &Path) -> (Option<Frozen>, Option<String>) {
    let Some((stamp, digest)) = round.frozen() else { return (None, None) };
    let root = log.parent().and_then(Path::parent).unwrap_or(Path::new("."));
    let path: PathBuf = root.join("plans").join(format!("{stamp}.json"));
    match read(&path, Limit::MAP) {
        Err(error) => (None, Some(format!("the frozen plan is not there: {error}"))),
        Ok(file) if file.digest != digest => {
            (None, Some(format!("{} is not the plan that was frozen with this round; it is not shown", path.display())))
        }
        Ok(file) => match serde_json::from_slice::<Frozen>(&file.bytes) {
            Ok(frozen) => (Some(frozen), None),
            Err(error) => (None, Some(format!("{}: {error}", path.display()))),
        },
    }
}
