//! Beginning a round: one's own copy of the example first, then the opening record.

use super::copy::own_copy;
use crate::round::{Opening, RoundCard};
use crate::scoring::Running;
use crate::session::{Opened, RoundWish, Session};
use crate::store::{Notify, OpenRound, Store, StoreError, TextOf, Trouble};
use std::path::{Path, PathBuf};

/// A round that was begun.
pub struct Begun {
    /// What is open now, in files, with the round.
    pub session: Session,
    /// The round, to be written.
    pub round: OpenRound,
    /// One line that says where everything lies.
    pub words: String,
    /// What the person should know of the format, in a sentence.
    pub of_play: Option<String>,
}

/// Why a round was not begun.
#[derive(Debug, thiserror::Error)]
pub enum NotBegun {
    /// A file could not be written or read.
    #[error(transparent)]
    File(#[from] StoreError),
    /// These players cannot play it so.
    #[error("{0}")]
    Play(String),
}

/// Begins a round from what is open, as `wish` asks. The example is copied to the shelf first; files that are there already
/// are never written over: they are the person's own.
///
/// # Errors
/// [`NotBegun`] when a file cannot be written or the format cannot be played: nothing that was open is lost.
pub fn begin(store: &Store, session: &Session, wish: &RoundWish, notify: Box<Notify>) -> Result<Begun, NotBegun> {
    let mut session = session.clone();
    let mut words = String::new();
    if let Some(copy) = own_copy(store, &session)? {
        session = copy.session;
        words = copy.words;
    }
    let name = session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
    let date = session.day.as_ref().map_or_else(|| session.today.clone(), |(day, _)| day.date.clone());
    let id = store.next_round_id(&date, &name);
    if session.course_file.is_none() {
        return Err(nothing_open(store).into());
    }
    let Opened { mut opening, words: of_play } = session.opening(id, &session.today, wish).map_err(NotBegun::Play)?;
    name_from_shelf(&mut opening, store.shelf().root());
    let mut round = store.new_round(opening, notify)?;
    if round.state.opening().kind.under_the_rules() {
        // Rule 4.3a(3): what was prepared before the round may be used in it, so the whole of it is kept as it stands now.
        session.round = Some(round.state.clone());
        session.refresh();
        let frozen = super::freeze::plans(&session);
        let event = super::freeze::freeze(store, &round.state, &frozen)?;
        if let Err(reason) = round.happen(&event) {
            return Err(StoreError {
                place: round.log.path(),
                trouble: Trouble::Other,
                what: reason.to_string(),
                cure: String::new(),
            }
            .into());
        }
        session.frozen = Some(frozen);
    }
    session.round = Some(round.state.clone());
    session.refresh();
    if words.is_empty() {
        let opening = round.state.opening();
        let play = opening.play.as_ref().map(|play| format!(", {play}")).unwrap_or_default();
        words = format!("A {} round was begun{play}: {}", opening.kind.word(), round.log.path().display());
    }
    Ok(Begun { session, round, words, of_play })
}

/// Names the files of a round from the shelf's folder where they lie in it, so that the folder can be carried elsewhere.
fn name_from_shelf(opening: &mut Opening, root: &Path) {
    let players = opening.players.iter_mut().filter_map(|p| p.file.as_mut());
    let files = std::iter::once(&mut opening.course).chain(&mut opening.layers).chain(opening.day.as_mut());
    for reference in files.chain(players) {
        if let Ok(below) = Path::new(&reference.file).strip_prefix(root) {
            reference.file = below.display().to_string();
        }
    }
}

fn nothing_open(store: &Store) -> StoreError {
    StoreError {
        place: store.shelf().root().to_owned(),
        trouble: Trouble::Missing,
        what: "no notebook is open to begin a round on".to_owned(),
        cure: "open one from the shelf first".to_owned(),
    }
}

/// The texts of a session as the store keeps them at the first score.
pub fn keep_texts(session: &Session) -> Vec<TextOf> {
    session
        .texts()
        .into_iter()
        .map(|(role, file)| TextOf { role, file: file.name.clone(), bytes: file.text.clone().into_bytes() })
        .collect()
}

/// Writes the readable card of a round beside its log; returns where.
///
/// # Errors
/// [`StoreError`] when it cannot be written; the log has everything all the same.
pub fn write_card(store: &Store, session: &Session) -> Result<Option<PathBuf>, StoreError> {
    let Some(round) = &session.round else { return Ok(None) };
    let mut card = RoundCard::of(round);
    let sheets = session.cards();
    if let Some(live) = session.live(&sheets) {
        card.standing = live.sides.iter().map(|side| format!("{}: {}", side.name, side.now)).collect();
    }
    let of_players = session.holders().into_iter().filter_map(|player| sheets.get(player));
    for (player, sheet) in card.players.iter_mut().zip(of_players) {
        let total: Running = sheet.total();
        let pars: Vec<String> = sheet.lines.iter().map(|l| l.hole.par.to_string()).collect();
        player.par = Some(pars.join(" "));
        if total.has_total() {
            player.totals.insert("gross".to_owned(), total.gross);
            player.totals.insert("net".to_owned(), total.net);
        }
        player.totals.insert("points".to_owned(), total.points);
    }
    let log = store.round_log(&round.opening().id);
    Ok(Some(store.save_card(&log, &card)?.path))
}
