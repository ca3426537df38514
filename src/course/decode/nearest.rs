//! The nearest valid word for one that is not known.

/// The word of `known` that `given` was most likely meant to be, if one is near enough to be worth naming.
///
/// Case, blanks and hyphens count for nothing; a typing slip counts one, a swap of neighbours one.
pub fn closest<'w, S: AsRef<str>>(given: &str, known: &'w [S]) -> Option<&'w str> {
    let given = plain(given);
    let reach = match given.len() {
        0 => return None,
        1..=2 => 1,
        3..=5 => 2,
        _ => 3,
    };
    known
        .iter()
        .map(|word| (slips(&given, &plain(word.as_ref())), word.as_ref()))
        .filter(|(slips, word)| *slips <= reach && *slips < word.chars().count())
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, word)| word)
}

/// ``Did you mean `bunkers`?`` when a known word is near.
pub fn did_you_mean<S: AsRef<str>>(given: &str, known: &[S]) -> Option<String> {
    closest(given, known).map(|word| format!("Did you mean `{word}`?"))
}

fn plain(word: &str) -> Vec<char> {
    let folded = word.trim().chars().flat_map(char::to_lowercase);
    // A key is short; whatever is longer is no misspelling of one.
    folded.map(|c| if c == '-' || c == ' ' { '_' } else { c }).take(64).collect()
}

/// Insertions, deletions, changes and swaps of neighbours between two words (optimal string alignment).
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let change = last.get(j).copied().unwrap_or(0) + usize::from(ca != cb);
            let remove = last.get(j + 1).copied().unwrap_or(0) + 1;
            let insert = row.last().copied().unwrap_or(0) + 1;
            let mut least = change.min(remove).min(insert);
            let swapped = i > 0 && j > 0 && a.get(i - 1) == Some(cb) && b.get(j - 1) == Some(ca);
            if swapped {
                least = least.min(before.get(j - 1).copied().unwrap_or(0) + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_hand_find_their_word() {
        let keys = ["par", "stroke_index", "line_from", "bunkers", "landmarks", "layups", "colour"];
        assert_eq!(closest("bunker", &keys), Some("bunkers"));
        assert_eq!(closest("stroke-index", &keys), Some("stroke_index"));
        assert_eq!(closest("Stroke Index", &keys), Some("stroke_index"));
        assert_eq!(closest("color", &keys), Some("colour"));
        assert_eq!(closest("lay-ups", &keys), Some("layups"));
        assert_eq!(closest("apr", &keys), Some("par"));
        assert_eq!(closest("weather", &keys), None);
        assert_eq!(closest("x", &["y"]), None, "a whole word replaced is no slip");
    }

    #[test]
    fn distances_are_those_of_the_usual_examples() {
        // Damerau 1964 and Levenshtein 1966 as usually illustrated; common practice.
        let d = |a: &str, b: &str| slips(&plain(a), &plain(b));
        assert_eq!(d("kitten", "sitting"), 3);
        assert_eq!(d("ab", "ba"), 1);
        assert_eq!(d("", "abc"), 3);
    }
}
