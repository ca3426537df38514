//! `marram review`: plan against play, strokes gained and lost, what to learn, what a target needs.

mod enter;
mod learnt;
mod needs;
mod whole;

use super::World;
use crate::review::{RoundCase, review_round, show};
use crate::session::Session;
use crate::shelf::{self, Past};
use crate::store::{Sort, StoreError};
use crate::units::plain_text::plain_lines;
use clap::Args;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

/// What to review.
#[derive(Debug, Default, Args)]
pub struct ReviewArgs {
    /// The round: a name on the shelf or a file; without it the round last open.
    pub round: Option<String>,
    /// Whose play, by name or number; of a season, the player's name or file. The first player, or the one last used, without it.
    #[arg(long)]
    pub player: Option<String>,
    /// Enter shots first: a CSV list (hole,shots or hole,club,left,…) or a GPX walk with a waypoint at each shot. docs/review.md.
    #[arg(long, value_name = "FILE")]
    pub shots: Option<String>,
    /// The season: every round of the player on the shelf.
    #[arg(long, conflicts_with_all = ["round", "shots"])]
    pub season: bool,
    /// Only rounds of this course; with --target and without ROUND the course that is to be played.
    #[arg(long)]
    pub course: Option<String>,
    /// What shots and scores say of the player's clubs, as numbered proposals.
    #[arg(long, conflicts_with_all = ["round", "shots", "season"])]
    pub learn: bool,
    /// Agree to proposals by their numbers, as 1,3.
    #[arg(long, requires = "learn", value_name = "N,N")]
    pub agree: Option<String>,
    /// With one number agreed to: write this instead of what was proposed.
    #[arg(long = "as", requires = "agree", value_name = "TEXT")]
    pub instead: Option<String>,
    /// Refuse proposals by their numbers: they come again when half as many shots more stand behind them.
    #[arg(long, requires = "learn", value_name = "N,N")]
    pub refuse: Option<String>,
    /// The chance of a target over the holes without a score, and the plays for it: "36 points", "net 72", "gross 89", "beat 90".
    #[arg(long, conflicts_with_all = ["season", "learn", "shots"])]
    pub target: Option<String>,
    /// What ten per cent less spread would save on this course, by club and lie.
    #[arg(long, value_name = "COURSE", conflicts_with_all = ["season", "learn", "shots", "target", "round"])]
    pub practise: Option<String>,
    /// The tee, with --practise or --course.
    #[arg(long)]
    pub tee: Option<String>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
    /// Every judged stroke as a CSV list.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
}

/// Runs the command.
pub fn run(args: &ReviewArgs, world: &mut World<'_>) -> u8 {
    if args.season {
        return whole::season(args, world);
    }
    if args.learn {
        return learnt::run(args, world);
    }
    if args.practise.is_some() {
        return whole::practise(args, world);
    }
    if args.target.is_some() {
        return needs::run(args, world);
    }
    let path = match round_path(args, world) {
        Ok(path) => path,
        Err(code) => return code,
    };
    if let Some(file) = &args.shots
        && let Err(code) = enter::shots(args, file, &path, world)
    {
        return code;
    }
    let past = match shelf::as_it_was(&path, &world.today) {
        Ok(past) => past,
        Err(error) => return world.file_trouble(&error),
    };
    let player = match player_of(args, &past.session, world) {
        Ok(player) => player,
        Err(code) => return code,
    };
    let case = RoundCase { session: past.session.clone(), player };
    let mut review = match review_round(&case, &AtomicBool::new(false)) {
        Ok(review) => review,
        Err(why) => {
            let _ = writeln!(world.err, "marram: {why}");
            return 1;
        }
    };
    review.remarks.extend(past.words.iter().cloned());
    let text = if args.json {
        show::json(&review).to_string()
    } else if args.csv {
        show::csv(std::slice::from_ref(&review)).trim_end().to_owned()
    } else {
        plain_lines(&show::lines(&review).join("\n")).into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}

/// The log of the round that is meant.
fn round_path(args: &ReviewArgs, world: &mut World<'_>) -> Result<PathBuf, u8> {
    match &args.round {
        Some(name) => world.find(Sort::Round, name).map_err(|e| world.file_trouble(&e)),
        None => {
            let (settings, _) = world.store.settings();
            let last = settings.last().round.as_ref().map(PathBuf::from).filter(|p| p.is_file());
            last.ok_or_else(|| world.misuse("which round? name one, as marram review 2026-05-16-corvane-links-a"))
        }
    }
}

/// Which player of a round.
fn player_of(args: &ReviewArgs, session: &Session, world: &mut World<'_>) -> Result<usize, u8> {
    match &args.player {
        None => Ok(0),
        Some(name) => session.player_named(name).ok_or_else(|| {
            let names: Vec<&str> = session.golfers.iter().map(|g| g.name.as_str()).collect();
            world.misuse(&format!("`{name}` does not play in this round; its players are {}", names.join(", ")))
        }),
    }
}

/// The file of the player whose season is meant, and the name in it.
fn player_file(args: &ReviewArgs, world: &World<'_>) -> Result<Option<(PathBuf, String)>, StoreError> {
    let (settings, _) = world.store.settings();
    let path = match &args.player {
        Some(name) => match world.find(Sort::Player, name) {
            Ok(path) => Some(path),
            // A player of rounds may have no file of their own.
            Err(_) if !name.contains('/') && !name.ends_with(".yaml") => return Ok(None),
            Err(error) => return Err(error),
        },
        None => shelf::player_for(&world.store, settings.last()),
    };
    let Some(path) = path else { return Ok(None) };
    let text = crate::store::read_text(&path, crate::store::Limit::YAML)?.text;
    let name = crate::player::read(&text).0.map(|p| p.name).unwrap_or_default();
    Ok(Some((path, name)))
}

/// The rounds of the player, oldest first, each as it was; with the words of what could not be read.
fn rounds(args: &ReviewArgs, world: &mut World<'_>) -> Result<(String, Vec<(Past, usize)>), u8> {
    let found = player_file(args, world).map_err(|e| world.file_trouble(&e))?;
    let name = match (found, &args.player) {
        (Some((_, name)), _) => name,
        (None, Some(name)) => name.clone(),
        (None, None) => return Err(world.misuse("whose rounds? name the player, as --player wren-hallam")),
    };
    let (mut rounds, words) = shelf::rounds_of(&world.store, &name, &world.today);
    for words in words {
        let _ = writeln!(world.err, "marram: {words}");
    }
    if let Some(course) = &args.course {
        let wanted = crate::round::slug(course.trim_end_matches(".yaml"));
        rounds.retain(|(past, _)| {
            past.session.round.as_ref().is_some_and(|r| {
                let opening = r.opening();
                crate::round::slug(&opening.course_name).starts_with(&wanted) || opening.course.file.contains(&wanted)
            })
        });
    }
    if rounds.is_empty() {
        let _ = writeln!(world.err, "marram: no round of {name} lies on this shelf; marram new round begins one");
        return Err(1);
    }
    Ok((name, rounds))
}
