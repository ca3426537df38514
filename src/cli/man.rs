//! `marram man`: manual pages from the same table as the help.

use super::World;
use super::arguments::Arguments;
use crate::store::Expect;
use clap::{Args, CommandFactory};
use clap_mangen::Man;
use std::path::PathBuf;

/// What is asked.
#[derive(Debug, Args)]
pub struct ManArgs {
    /// The page of one command; without it marram's own page.
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
    /// Write every page into this folder, as `marram.1`, `marram-plan.1` and so on.
    #[arg(long, value_name = "DIR", conflicts_with = "command")]
    pub out: Option<PathBuf>,
    /// Pages that are there already are written anew.
    #[arg(long, requires = "out")]
    pub replace: bool,
}

/// Runs the command.
pub fn run(args: &ManArgs, world: &mut World<'_>) -> u8 {
    let mut whole = Arguments::command();
    whole.build();
    if let Some(folder) = &args.out {
        return write(&whole, folder, args.replace, world);
    }
    let (command, title) = match &args.command {
        None => (&whole, "marram".to_owned()),
        Some(name) => match whole.find_subcommand(name) {
            Some(command) => (command, format!("marram-{name}")),
            None => {
                let near = crate::notebook::nearest(name, whole.get_subcommands().map(clap::Command::get_name));
                let cure = near.map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
                return world.misuse(&format!("there is no command `{name}`{cure}"));
            }
        },
    };
    u8::from(page(command, &title).map_or(true, |bytes| world.out.write_all(&bytes).is_err()))
}

fn page(command: &clap::Command, title: &str) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    Man::new(command.clone()).title(title).manual("marram").render(&mut bytes)?;
    Ok(bytes)
}

fn write(whole: &clap::Command, folder: &std::path::Path, replace: bool, world: &mut World<'_>) -> u8 {
    let subs = whole.get_subcommands().filter(|c| c.get_name() != "help");
    let pages =
        std::iter::once(("marram".to_owned(), whole)).chain(subs.map(|c| (format!("marram-{}", c.get_name()), c)));
    for (title, command) in pages {
        let name = format!("{title}.1");
        let path = folder.join(name);
        let Ok(bytes) = page(command, &title) else { return 1 };
        let expect = if replace { Expect::Anything } else { Expect::New };
        if let Err(error) = world.store.save(&path, &bytes, expect) {
            return world.file_trouble(&error);
        }
        let _ = writeln!(world.out, "{}", path.display());
    }
    0
}
