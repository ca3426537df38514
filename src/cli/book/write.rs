//! Papers written: to one file, to a folder, or to standard output.

use super::{BookArgs, Form, Made, Print, say_shortened};
use crate::cli::World;
use crate::print::cover::filled_up;
use crate::print::impose::impose;
use crate::print::{About, Laid, Page, lay, pdf, svg, text};
use crate::store::Expect;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Writes what was made; several books go into one PDF or text, or each into its own file of a folder.
pub fn write(args: &BookArgs, print: &Print, made: Vec<Made>, world: &mut World<'_>) -> u8 {
    if args.pupils.is_some() {
        let Some(folder) = &args.out else {
            return world.misuse("--pupils writes a file for each; name their folder with --out DIR");
        };
        if let Err(error) = world.store.make_folder(folder) {
            return world.file_trouble(&error);
        }
        for one in made {
            let path = folder.join(format!("{}.{}", one.name, print.form.ending()));
            let code = match print.form {
                Form::Svg => pictures(args, print, &[one], Some(&path.with_extension("")), world),
                _ => file(args, print, &[one], Some(&path), world),
            };
            if code != 0 {
                return code;
            }
        }
        return 0;
    }
    match print.form {
        Form::Svg => pictures(args, print, &made, args.out.as_deref(), world),
        _ => file(args, print, &made, args.out.as_deref(), world),
    }
}

fn laid(args: &BookArgs, print: &Print, made: &[Made], world: &mut World<'_>) -> Laid {
    let started = Instant::now();
    let mut all = Laid::default();
    for one in made {
        let mut laid = lay(&one.leaves, print.page);
        all.pages.append(&mut laid.pages);
        all.shortened.append(&mut laid.shortened);
    }
    say_shortened(&all.shortened, world);
    if args.timings {
        let _ = writeln!(world.err, "{} pages laid out in {:?}", all.pages.len(), started.elapsed());
    }
    all
}

/// One PDF or one text.
fn file(args: &BookArgs, print: &Print, made: &[Made], out: Option<&Path>, world: &mut World<'_>) -> u8 {
    let bytes = if print.form == Form::Text {
        let started = Instant::now();
        let texts: Vec<String> = made.iter().map(|m| text(&m.leaves)).collect();
        if args.timings {
            let _ = writeln!(world.err, "text in {:?}", started.elapsed());
        }
        texts.join("\n\u{c}").into_bytes()
    } else {
        if out.is_none() && world.terminal {
            return world
                .misuse("a PDF is no text for a terminal; name its file with --out FILE.pdf, or take --as text");
        }
        let pages = laid(args, print, made, world).pages;
        let pages = match print.sheet {
            None => pages,
            Some(sheet) => match impose(&filled_up(pages, print.page), print.page, sheet) {
                Ok(sheets) => sheets,
                Err(error) => return world.misuse(&format!("--impose: {error}")),
            },
        };
        let about = About {
            title: made.first().map(|m| m.title.clone()).unwrap_or_default(),
            author: made.first().and_then(|m| m.author.clone()),
        };
        let started = Instant::now();
        let written = pdf(&pages, &about);
        if args.timings {
            let _ = writeln!(world.err, "PDF in {:?}", started.elapsed());
        }
        match written {
            Ok(bytes) => bytes,
            Err(error) => {
                let _ = writeln!(world.err, "marram: {error}");
                return 1;
            }
        }
    };
    match out {
        Some(path) => save(path, &bytes, args, world),
        None => u8::from(world.out.write_all(&bytes).is_err()),
    }
}

/// A picture a page: into a folder, or a single one to standard output.
fn pictures(args: &BookArgs, print: &Print, made: &[Made], out: Option<&Path>, world: &mut World<'_>) -> u8 {
    let pages: Vec<Page> = laid(args, print, made, world).pages;
    let Some(folder) = out else {
        return match pages.as_slice() {
            [one] => u8::from(world.out.write_all(svg(one).as_bytes()).is_err()),
            many => world.misuse(&format!(
                "{} pages are {} files; name their folder with --out DIR, or one page with --hole N",
                many.len(),
                many.len()
            )),
        };
    };
    if let Err(error) = world.store.make_folder(folder) {
        return world.file_trouble(&error);
    }
    for (number, page) in pages.iter().enumerate() {
        let path: PathBuf = folder.join(format!("{:02}-{}.svg", number + 1, crate::round::slug(&page.name)));
        let code = save(&path, svg(page).as_bytes(), args, world);
        if code != 0 {
            return code;
        }
    }
    0
}

fn save(path: &Path, bytes: &[u8], args: &BookArgs, world: &mut World<'_>) -> u8 {
    match world.store.save(path, bytes, if args.replace { Expect::Anything } else { Expect::New }) {
        Ok(saved) => u8::from(writeln!(world.out, "{}", saved.path.display()).is_err()),
        Err(error) => world.file_trouble(&error),
    }
}
