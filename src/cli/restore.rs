//! `marram restore FILE…`: puts back what a file was before marram last rewrote it.

use super::World;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;

/// What to put back.
#[derive(Debug, Args)]
pub struct RestoreArgs {
    /// The files.
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Only list the backups there are.
    #[arg(long)]
    pub list: bool,
    /// Put back the backup with this number, not the newest.
    #[arg(long, value_name = "N", conflicts_with = "list")]
    pub to: Option<u32>,
    /// One JSON object a line.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command.
pub fn run(args: &RestoreArgs, world: &mut World<'_>) -> u8 {
    let mut worst = 0;
    for file in &args.files {
        let path = world.current.join(file);
        worst = worst.max(one(args, &path, world));
    }
    worst
}

fn one(args: &RestoreArgs, path: &std::path::Path, world: &mut World<'_>) -> u8 {
    let name = path.display().to_string();
    let backups = match world.store.backups(path) {
        Ok(backups) => backups,
        Err(error) => return world.file_trouble(&error),
    };
    if args.list {
        let mut failed = false;
        if backups.is_empty() && !args.json {
            failed |= writeln!(world.out, "{name}: no backup; one is made before marram rewrites a file").is_err();
        }
        for backup in &backups {
            let copy = backup.path.display().to_string();
            failed |= if args.json {
                let line =
                    json!({ "schema": "marram/restore/1", "file": name, "number": backup.number, "backup": copy });
                writeln!(world.out, "{line}").is_err()
            } else {
                writeln!(world.out, "{name}: {}  {copy}", backup.number).is_err()
            };
        }
        return u8::from(failed);
    }
    let chosen = match args.to {
        Some(number) => backups.iter().find(|b| b.number == number),
        // The newest that says something else than the file does now: a backup of a restore is no step back.
        None => {
            let now = std::fs::read(path).ok();
            backups.iter().rev().find(|b| std::fs::read(&b.path).ok() != now)
        }
    };
    let Some(chosen) = chosen else {
        let why = match args.to {
            Some(number) => format!("{name} has no backup {number}; --list shows those there are"),
            None => format!("{name} has no backup that differs from it"),
        };
        let _ = writeln!(world.err, "marram: {why}");
        return 1;
    };
    match world.store.restore(path, chosen) {
        Ok(_) => {
            let said = if args.json {
                let copy = chosen.path.display().to_string();
                json!({ "schema": "marram/restore/1", "file": name, "number": chosen.number, "backup": copy })
                    .to_string()
            } else {
                format!("{name}: backup {} is back; what stood there is a backup now", chosen.number)
            };
            u8::from(writeln!(world.out, "{said}").is_err())
        }
        Err(error) => world.file_trouble(&error),
    }
}
