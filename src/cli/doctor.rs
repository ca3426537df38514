//! `marram doctor`: what marram sees of the terminal, the folders and the files, and what to do where something is wrong.

use super::{World, check};
use crate::notebook::Severity;
use crate::round::replay;
use crate::store::{Limit, Sort, read, read_text};
use crate::tui::looks::{Depth, Looks};
use clap::Args;
use serde_json::json;

/// What is asked.
#[derive(Debug, Args)]
pub struct DoctorArgs {
    /// One JSON object a line.
    #[arg(long)]
    pub json: bool,
}

/// Something looked at.
struct Finding {
    /// What was looked at.
    subject: &'static str,
    /// What was seen.
    seen: String,
    /// What to do; empty when all is well.
    cure: String,
}

/// Runs the command: 0 when nothing needs a cure, 1 otherwise.
pub fn run(args: &DoctorArgs, world: &mut World<'_>) -> u8 {
    let mut found = vec![Finding {
        subject: "version",
        seen: format!("marram {}", env!("CARGO_PKG_VERSION")),
        cure: String::new(),
    }];
    found.extend(terminal(world.terminal, |name| std::env::var(name).ok()));
    found.extend(folders(world));
    found.extend(files(world));
    for f in &found {
        let line = if args.json {
            let cure = (!f.cure.is_empty()).then_some(&f.cure);
            json!({ "schema": "marram/doctor/1", "subject": f.subject, "seen": f.seen, "cure": cure }).to_string()
        } else if f.cure.is_empty() {
            format!("{:<12} {}", f.subject, f.seen)
        } else {
            format!("{:<12} {}\n{:<12} -> {}", f.subject, f.seen, "", f.cure)
        };
        if writeln!(world.out, "{line}").is_err() {
            return 1;
        }
    }
    u8::from(found.iter().any(|f| !f.cure.is_empty()))
}

fn terminal(drawn: bool, var: impl Fn(&str) -> Option<String>) -> Vec<Finding> {
    let looks = Looks::from_environment(&var);
    let said = |name: &str| var(name).map_or_else(|| format!("{name} is not set"), |v| format!("{name}={v}"));
    let depth = match looks.depth {
        Depth::None => "no colour: letters and textures carry everything",
        Depth::Sixteen => "16 colours",
        Depth::Indexed => "256 colours",
        Depth::True => "true colour",
    };
    let mut out = vec![Finding {
        subject: "terminal",
        seen: if drawn {
            said("TERM")
        } else {
            format!("{}; not a terminal here, so no screen is drawn", said("TERM"))
        },
        cure: String::new(),
    }];
    out.push(Finding {
        subject: "colours",
        seen: format!("{depth} ({}, {})", said("COLORTERM"), said("NO_COLOR")),
        cure: String::new(),
    });
    let glyphs = if looks.ascii {
        "plain ASCII characters"
    } else {
        "these should be one column each: ─ ▀ ● ○ ▲ → · ½"
    };
    let cure = if looks.ascii || utf8(&var) {
        String::new()
    } else {
        "the locale does not say UTF-8: set LANG to one that does, or MARRAM_ASCII=1 for plain characters".to_owned()
    };
    out.push(Finding { subject: "characters", seen: glyphs.to_owned(), cure });
    let ground = if looks.light { "light" } else { "dark" };
    out.push(Finding {
        subject: "background",
        seen: format!("taken for {ground} ({}); o b on the screen turns it", said("COLORFGBG")),
        cure: String::new(),
    });
    out
}

/// Whether the locale promises UTF-8; on Windows and macOS terminals it needs no locale.
fn utf8(var: &impl Fn(&str) -> Option<String>) -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|k| var(k).filter(|v| !v.is_empty()));
    cfg!(any(windows, target_os = "macos"))
        || locale.is_none_or(|l| l.to_ascii_lowercase().replace('-', "").contains("utf8"))
}

fn folders(world: &World<'_>) -> Vec<Finding> {
    let shelf = world.store.shelf();
    let root = shelf.root();
    let seen = root.display().to_string();
    let mut out = vec![if root.is_dir() {
        match world.store.can_write(root) {
            Ok(()) => Finding { subject: "shelf", seen, cure: String::new() },
            Err(error) => Finding { subject: "shelf", seen, cure: format!("{}; {}", error.what, error.cure) },
        }
    } else {
        Finding {
            subject: "shelf",
            seen: format!("{seen} is not there yet; the first change makes it"),
            cure: String::new(),
        }
    }];
    let keys = shelf.keys();
    if keys.exists() {
        out.push(problems_in("own keys", &keys).unwrap_or_else(|| Finding {
            subject: "own keys",
            seen: keys.display().to_string(),
            cure: String::new(),
        }));
    }
    let (_, trouble) = world.store.settings();
    if let Some(error) = trouble {
        out.push(Finding { subject: "settings", seen: error.what.clone(), cure: error.cure });
    }
    out
}

fn files(world: &World<'_>) -> Vec<Finding> {
    let mut out = Vec::new();
    for (sort, subject) in
        [(Sort::Notebook, "notebooks"), (Sort::Player, "players"), (Sort::Day, "day sheets"), (Sort::Round, "rounds")]
    {
        let found = match world.store.shelf().list(sort) {
            Ok(found) => found,
            Err(error) => {
                out.push(Finding { subject, seen: error.what, cure: error.cure });
                continue;
            }
        };
        let wrong: Vec<Finding> = found
            .iter()
            .filter_map(|f| match sort {
                Sort::Round => log_problems(subject, &f.path),
                _ => problems_in(subject, &f.path),
            })
            .collect();
        let words = match wrong.len() {
            0 => String::new(),
            n => format!(", {n} with errors"),
        };
        out.push(Finding { subject, seen: format!("{}{words}", found.len()), cure: String::new() });
        out.extend(wrong);
    }
    out
}

/// The errors of one human file; `None` when it has none.
fn problems_in(subject: &'static str, path: &std::path::Path) -> Option<Finding> {
    let seen = path.display().to_string();
    let file = match read_text(path, Limit::YAML) {
        Ok(file) => file,
        Err(error) => return Some(Finding { subject, seen: format!("{seen}: {}", error.what), cure: error.cure }),
    };
    let (problems, _) = check::problems_of(path, &file.text);
    let errors = problems.iter().filter(|p| p.severity == Severity::Error).count();
    (errors > 0).then(|| Finding {
        subject,
        cure: format!("marram check {seen}"),
        seen: format!("{seen}: {errors} errors"),
    })
}

fn log_problems(subject: &'static str, path: &std::path::Path) -> Option<Finding> {
    let seen = path.display().to_string();
    match read(path, Limit::MAP) {
        Err(error) => Some(Finding { subject, seen: format!("{seen}: {}", error.what), cure: error.cure }),
        Ok(file) => {
            let lost = replay(&file.bytes).problems.iter().filter(|p| p.loses_something()).count();
            (lost > 0).then(|| Finding {
                subject,
                cure: format!("marram check {seen}"),
                seen: format!("{seen}: {lost} lines lost"),
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(pairs: &'static [(&'static str, &'static str)]) -> impl Fn(&str) -> Option<String> {
        |name| pairs.iter().find(|(k, _)| *k == name).map(|(_, v)| (*v).to_owned())
    }

    #[test]
    fn a_locale_without_utf8_gets_a_cure_and_plain_characters_need_none() {
        let cures = |pairs| terminal(true, of(pairs)).iter().filter(|f| !f.cure.is_empty()).count();
        assert_eq!(cures(&[("TERM", "xterm-256color"), ("LANG", "en_GB.UTF-8")]), 0);
        assert_eq!(
            cures(&[("TERM", "xterm"), ("LANG", "en_GB.ISO-8859-1")]),
            usize::from(!cfg!(any(windows, target_os = "macos")))
        );
        assert_eq!(cures(&[("TERM", "xterm"), ("LANG", "en_GB.ISO-8859-1"), ("MARRAM_ASCII", "1")]), 0);
    }
}
