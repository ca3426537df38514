//! The name of a round: its date, its course and a letter, since two rounds a day have two names.

use serde::{Deserialize, Serialize};
use std::fmt;

/// The most characters that a slug keeps of a name.
const LONGEST_SLUG: usize = 40;

/// A name in the letters that every file system takes: lower case, digits and single hyphens. Letters with marks lose them
/// where a plain form is usual; a name without any such letter becomes `course`.
///
/// ```
/// use marram::round::slug;
/// assert_eq!(slug("Corvane Links"), "corvane-links");
/// assert_eq!(slug("St. Åsa's (old) Heath"), "st-asas-old-heath");
/// ```
pub fn slug(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars().flat_map(char::to_lowercase) {
        let plain: &str = match c {
            'a'..='z' | '0'..='9' => {
                out.push(c);
                continue;
            }
            '\'' | '’' => continue,
            'à' | 'á' | 'â' | 'ã' | 'å' | 'ā' => "a",
            'ä' | 'æ' => "ae",
            'ç' | 'č' | 'ć' => "c",
            'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ę' => "e",
            'ì' | 'í' | 'î' | 'ï' | 'ī' => "i",
            'ñ' | 'ń' => "n",
            'ò' | 'ó' | 'ô' | 'õ' | 'ō' => "o",
            'ö' | 'ø' | 'œ' => "oe",
            'ù' | 'ú' | 'û' | 'ū' => "u",
            'ü' => "ue",
            'ß' => "ss",
            'ś' | 'š' => "s",
            'ł' => "l",
            'ý' | 'ÿ' => "y",
            'ź' | 'ż' | 'ž' => "z",
            _ if out.is_empty() || out.ends_with('-') => continue,
            _ => "-",
        };
        out.push_str(plain);
    }
    let kept = out.get(..LONGEST_SLUG).unwrap_or(&out).trim_matches('-');
    if kept.is_empty() { "course".to_owned() } else { kept.to_owned() }
}

/// The name of a round, as `2026-05-16-corvane-links-a`; its files are named after it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct RoundId(String);

/// A text that is no round's name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a round's name is made of letters, digits and hyphens, as `2026-05-16-corvane-links-a`")]
pub struct NotARoundId;

impl RoundId {
    /// The first free name on `date` (`2026-05-16`) for the course: `…-a`, `…-b`, … `…-z`, `…-aa`.
    ///
    /// ```
    /// use marram::round::RoundId;
    /// let first = RoundId::next("2026-05-16", "Corvane Links", |_| false);
    /// assert_eq!(first.as_str(), "2026-05-16-corvane-links-a");
    /// let second = RoundId::next("2026-05-16", "Corvane Links", |id| *id == first);
    /// assert_eq!(second.as_str(), "2026-05-16-corvane-links-b");
    /// ```
    pub fn next(date: &str, course_name: &str, taken: impl Fn(&Self) -> bool) -> Self {
        let head = format!("{}-{}", slug(date), slug(course_name));
        let mut number = 0;
        loop {
            let id = Self(format!("{head}-{}", letters(number)));
            if !taken(&id) {
                return id;
            }
            number += 1;
        }
    }

    /// The name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// a, b, … z, aa, ab, …
fn letters(mut number: u32) -> String {
    let mut out = Vec::new();
    loop {
        out.push(char::from_u32(u32::from('a') + number % 26).unwrap_or('a'));
        if number < 26 {
            return out.iter().rev().collect();
        }
        number = number / 26 - 1;
    }
}

impl fmt::Display for RoundId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<RoundId> for String {
    fn from(id: RoundId) -> Self {
        id.0
    }
}

/// Only letters, digits and hyphens: a name read from a file must never lead to another folder.
impl TryFrom<String> for RoundId {
    type Error = NotARoundId;

    fn try_from(text: String) -> Result<Self, NotARoundId> {
        let fits = !text.is_empty()
            && text.len() <= 100
            && !text.starts_with('-')
            && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if fits { Ok(Self(text)) } else { Err(NotARoundId) }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(letters(0), "a");
        assert_eq!(letters(25), "z");
        assert_eq!(letters(26), "aa");
        assert_eq!(letters(27), "ab");
        assert_eq!(letters(701), "zz");
        assert_eq!(letters(702), "aaa");
    }

    #[test]
    fn a_name_never_leads_to_another_folder() {
        for bad in ["", "../x", "a/b", "a\\b", "A", "-a", "a b", "a.log"] {
            assert_eq!(RoundId::try_from(bad.to_owned()), Err(NotARoundId), "{bad}");
        }
    }

    proptest! {
        #[test]
        fn every_course_makes_a_name_that_reads_back(name in any::<String>()) {
            let id = RoundId::next("2026-05-16", &name, |_| false);
            prop_assert_eq!(RoundId::try_from(id.as_str().to_owned()), Ok(id));
        }
    }
}
