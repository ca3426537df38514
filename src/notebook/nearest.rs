//! The word that was probably meant.

/// The candidate nearest to `word` when it is near enough to be worth asking about, else none.
///
/// Distance is the number of letters changed, left out, put in or swapped with their neighbour, case aside;
/// one in a word of up to four letters, two up to eight, three beyond. Of equals the first candidate wins.
pub fn nearest<'c, S: AsRef<str> + ?Sized + 'c>(
    word: &str,
    candidates: impl IntoIterator<Item = &'c S>,
) -> Option<&'c str> {
    let letters: Vec<char> = normal(word).take(65).collect();
    if letters.is_empty() || letters.len() > 64 {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    for candidate in candidates {
        let candidate = candidate.as_ref();
        let other: Vec<char> = normal(candidate).take(65).collect();
        let limit = match letters.len().min(other.len()) {
            0..=1 => 0,
            2..=4 => 1,
            5..=8 => 2,
            _ => 3,
        };
        if other.len() > 64 || letters.len().abs_diff(other.len()) > limit {
            continue;
        }
        let d = distance(&letters, &other);
        if d <= limit && best.is_none_or(|(b, _)| d < b) {
            best = Some((d, candidate));
        }
    }
    best.map(|(_, c)| c)
}

/// `did you mean `WORD`?`, or the list of what is allowed when nothing is near, or nothing when there is no list.
pub fn did_you_mean<S: AsRef<str>>(word: &str, candidates: &[S]) -> String {
    if let Some(near) = nearest(word, candidates) {
        return format!("did you mean {}?", quoted(near));
    }
    let names: Vec<String> = candidates.iter().take(24).map(|c| quoted(c.as_ref())).collect();
    match names.len() {
        0 => String::new(),
        1 => format!("only {} is known here", names.concat()),
        _ if candidates.len() > names.len() => {
            format!("known here are {} and {} more", names.join(", "), candidates.len() - names.len())
        }
        _ => format!("known here are {}", names.join(", ")),
    }
}

/// A word of a file for use in a message: in back ticks, control characters shown, cut after 40 characters.
pub fn quoted(word: &str) -> String {
    let mut out = String::from("`");
    for (n, c) in word.chars().enumerate() {
        if n == 40 {
            out.push_str("...");
            break;
        }
        match super::guard::hidden(c) {
            true => out.push_str(&super::guard::shown(c)),
            false => out.push(c),
        }
    }
    out.push('`');
    out
}

/// Case, `-` and `_` do not count: `Stroke-Index` is `stroke_index`.
fn normal(word: &str) -> impl Iterator<Item = char> {
    word.chars().flat_map(char::to_lowercase).map(|c| if matches!(c, '-' | ' ') { '_' } else { c })
}

/// Optimal string alignment distance.
///
/// # References
/// F. J. Damerau, "A technique for computer detection and correction of spelling errors", CACM 7(3), 1964; each
/// stretch is edited once (restricted form).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, &ca) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        row.push(i + 1);
        for (j, &cb) in b.iter().enumerate() {
            let at = |v: &[usize], k: usize| v.get(k).copied().unwrap_or(usize::MAX / 2);
            let mut d = (at(&last, j) + usize::from(ca != cb)).min(at(&last, j + 1) + 1).min(at(&row, j) + 1);
            let swapped = i > 0 && j > 0 && a.get(i - 1) == Some(&cb) && b.get(j - 1) == Some(&ca);
            if swapped {
                d = d.min(at(&before, j - 1) + 1);
            }
            row.push(d);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEYS: &[&str] = &["hole", "par", "stroke_index", "bearing", "landmarks", "layups", "notes", "name"];

    #[test]
    fn a_slip_finds_its_word() {
        for (typed, meant) in [
            ("bearign", "bearing"),
            ("Par", "par"),
            ("parr", "par"),
            ("stroke-index", "stroke_index"),
            ("strok_indx", "stroke_index"),
            ("landmark", "landmarks"),
            ("lay_ups", "layups"),
            ("nmae", "name"),
        ] {
            assert_eq!(nearest(typed, KEYS), Some(meant), "{typed}");
        }
    }

    #[test]
    fn a_stranger_finds_nothing() {
        for typed in ["", "x", "bunkers", "green", "wind speed", &"n".repeat(5000)] {
            assert_eq!(nearest(typed, KEYS), None, "{typed}");
        }
    }

    #[test]
    fn the_list_is_named_when_nothing_is_near() {
        assert_eq!(did_you_mean("zzz", &["men", "women"]), "known here are `men`, `women`");
        assert_eq!(did_you_mean("mne", &["men", "women"]), "did you mean `men`?");
        assert_eq!(did_you_mean::<&str>("zzz", &[]), "");
    }

    #[test]
    fn distance_counts_a_swap_once() {
        let d = |a: &str, b: &str| distance(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>());
        assert_eq!(d("ca", "ac"), 1);
        assert_eq!(d("kitten", "sitting"), 3);
        assert_eq!(d("", "abc"), 3);
    }
}
