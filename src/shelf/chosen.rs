//! What a person chose with a plan: pinned plays in `plans/pins.json`, commitments in `plans/commitments.jsonl`, a line each.

use crate::plan::{Commitment, Pins};
use crate::store::{Expect, Limit, Saved, Store, StoreError, Trouble, read};
use std::path::{Path, PathBuf};

/// Where pinned plays lie.
pub fn pins_file(store: &Store) -> PathBuf {
    store.shelf().plans().join("pins.json")
}

/// Where commitments lie.
pub fn commitments_file(store: &Store) -> PathBuf {
    store.shelf().plans().join("commitments.jsonl")
}

/// The pinned plays of a shelf; none where nothing was pinned yet.
///
/// # Errors
/// [`StoreError`] when the file cannot be read or is something else.
pub fn pins(store: &Store) -> Result<Pins, StoreError> {
    let place = pins_file(store);
    match read(&place, Limit::MAP) {
        Err(error) if error.trouble == Trouble::Missing => Ok(Pins::default()),
        Err(error) => Err(error),
        Ok(file) => serde_json::from_slice(&file.bytes).map_err(|error| not_ours(&place, &error)),
    }
}

/// Keeps the pinned plays. A file that is no list of pins is never written over.
///
/// # Errors
/// [`StoreError`] when it cannot be written.
pub fn keep_pins(store: &Store, kept: &Pins) -> Result<Saved, StoreError> {
    pins(store)?;
    store.make_folder(&store.shelf().plans())?;
    let mut bytes = serde_json::to_vec_pretty(kept).unwrap_or_default();
    bytes.push(b'\n');
    store.save(&pins_file(store), &bytes, Expect::Anything)
}

/// Adds a commitment to those that were kept before.
///
/// # Errors
/// [`StoreError`] when it cannot be written.
pub fn keep_commitment(store: &Store, commitment: &Commitment) -> Result<Saved, StoreError> {
    let place = commitments_file(store);
    let (mut bytes, expect) = match read(&place, Limit::MAP) {
        Ok(file) => (file.bytes.clone(), Expect::AsRead(file.digest)),
        Err(error) if error.trouble == Trouble::Missing => (Vec::new(), Expect::New),
        Err(error) => return Err(error),
    };
    if bytes.last().is_some_and(|b| *b != b'\n') {
        bytes.push(b'\n');
    }
    bytes.extend(serde_json::to_vec(commitment).unwrap_or_default());
    bytes.push(b'\n');
    store.make_folder(&store.shelf().plans())?;
    store.save(&place, &bytes, expect)
}

/// The commitments that were kept, oldest first; a line that is none is left out.
///
/// # Errors
/// [`StoreError`] when the file cannot be read.
pub fn commitments(store: &Store) -> Result<Vec<Commitment>, StoreError> {
    match read(&commitments_file(store), Limit::MAP) {
        Err(error) if error.trouble == Trouble::Missing => Ok(Vec::new()),
        Err(error) => Err(error),
        Ok(file) => {
            let lines = file.bytes.split(|b| *b == b'\n').filter(|line| !line.is_empty());
            Ok(lines.filter_map(|line| serde_json::from_slice(line).ok()).collect())
        }
    }
}

fn not_ours(place: &Path, error: &serde_json::Error) -> StoreError {
    StoreError {
        place: place.to_owned(),
        trouble: Trouble::Other,
        what: format!("this is no list of pinned plays: {error}"),
        cure: "mend it, or move it away and pin anew".to_owned(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::plan::Pinned;
    use crate::store::Shelf;
    use crate::units::{Across, FromTee};

    fn pinned(club: &str) -> Pinned {
        Pinned {
            course: "Corvane Links".to_owned(),
            hole: 4,
            player: "Wren".to_owned(),
            tee: "Club".to_owned(),
            from: None,
            club: club.to_owned(),
            total: 214.0,
            at: FromTee(212.0),
            across: Across(-4.0),
            words: "at the mast".to_owned(),
            aimed: crate::plan::Aimed::Strokes,
            cost: 0.04,
        }
    }

    #[test]
    fn pins_come_back_and_a_file_that_is_none_is_never_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::new(Shelf::at(folder.path()));
        let mut kept = pins(&store).unwrap();
        assert!(kept.pin(pinned("driver")), "pinned");
        assert!(kept.pin(pinned("3 wood")), "instead of the one before");
        keep_pins(&store, &kept).unwrap();
        let again = pins(&store).unwrap();
        assert_eq!(again, kept);
        assert_eq!(again.pins.len(), 1);
        assert!(!kept.pin(pinned("3 wood")), "the same again takes it away");
        std::fs::write(pins_file(&store), "not ours").unwrap();
        let error = keep_pins(&store, &kept).unwrap_err();
        assert!(error.to_string().contains("no list of pinned plays"), "{error}");
        assert_eq!(std::fs::read_to_string(pins_file(&store)).unwrap(), "not ours");
    }
}
