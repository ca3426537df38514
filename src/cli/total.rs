//! `marram total COMPETITION`: each event's order, ties and how they were settled, what is missing or disagrees.

use super::World;
use crate::competition::{self, Competition, Totals, effect, show};
use crate::notebook::report::Report;
use crate::shelf::{Opened, Proof, latest, open_competition, prove};
use crate::store::{Expect, Sort};
use crate::units::plain_text::plain_lines;
use clap::{Args, ValueEnum};
use serde_json::{Value, json};
use std::path::PathBuf;

/// What to total.
#[derive(Debug, Args)]
pub struct TotalArgs {
    /// The competition: a name on the shelf, or its folder.
    #[arg(value_name = "COMPETITION")]
    pub competition: String,
    /// One JSON object.
    #[arg(long, conflicts_with = "form")]
    pub json: bool,
    /// Whatever is missing or disagrees is an error.
    #[arg(long = "final")]
    pub is_final: bool,
    /// The form of the answer.
    #[arg(long = "as", value_enum, value_name = "FORM", id = "form")]
    pub form: Option<Form>,
    /// In CSV: a text that a spreadsheet would compute gets an apostrophe in front.
    #[arg(long)]
    pub spreadsheet_safe: bool,
    /// Explain the lines of this id or name: strokes, keyings, rulings, ties.
    #[arg(long, value_name = "ID", conflicts_with_all = ["json", "form"])]
    pub explain: Option<String>,
    /// Show what each lawful ruling on a returned score would do, before it is made: ID:HOLE, with penalty strokes ID:HOLE+2.
    #[arg(long, value_name = "ID:HOLE[+STROKES]", conflicts_with_all = ["json", "form", "explain"])]
    pub ruling: Option<String>,
    /// Write the answer to a file.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write over a file that is there.
    #[arg(long)]
    pub replace: bool,
}

/// The forms of a result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For the notice board.
    Text,
    /// For a spreadsheet.
    Csv,
    /// Headings and tables.
    Markdown,
    /// One page that holds everything.
    Html,
    /// Adjusted gross scores and differentials, CSV, for the handicap system.
    Record,
    /// The status of every card.
    Cards,
}

/// Runs the command.
pub fn run(args: &TotalArgs, world: &mut World<'_>) -> u8 {
    let opened = match open(&args.competition, world) {
        Ok(opened) => opened,
        Err(code) => return code,
    };
    say_problems(&opened, world);
    let Some(competition) = opened.competition.as_ref().filter(|_| opened.is_sound()) else {
        return 1;
    };
    let mut totals = competition::total(competition);
    totals.issues.extend(opened.issues.iter().cloned());
    let proof = match latest(&opened.folder) {
        Ok(found) => found.map(|(manifest, _)| prove(&manifest, &opened, competition, &totals)),
        Err(error) => return world.file_trouble(&error),
    };
    let code = u8::from(args.is_final && !totals.is_final());
    if let Some(asked) = &args.ruling {
        return ruling(asked, competition, world);
    }
    let text = match (&args.explain, args.json) {
        (Some(who), _) => match competition::proof::explain(competition, &totals, who) {
            Some(text) => plain_lines(&text).into_owned(),
            None => return world.misuse(&format!("`{who}` is no id and no name in {}", competition.setup.name)),
        },
        (None, true) => format!("{}\n", with_proof(show::json(competition, &totals), proof.as_ref())),
        (None, false) => written(competition, &totals, args),
    };
    let answered = answer(&text, args, world);
    if !args.json && args.form.is_none() {
        let _ = world.err.write_all(show::issues_text(&totals.issues).as_bytes());
        if let Some(proof) = &proof {
            let _ = writeln!(world.err, "{}", plain_lines(&proof.words()));
        }
    }
    if answered == 0 { code } else { answered }
}

/// The lawful outcomes of a ruling and what each changes.
fn ruling(asked: &str, competition: &Competition, world: &mut World<'_>) -> u8 {
    let read = || {
        let (id, hole) = asked.rsplit_once(':')?;
        let (hole, added) = hole.split_once('+').unwrap_or((hole, "2"));
        Some((id, hole.trim().parse::<u8>().ok()?, added.trim().parse::<u8>().ok().filter(|added| *added > 0)?))
    };
    let Some((id, hole, added)) = read() else {
        return world.misuse(&format!(
            "--ruling `{asked}`: write the card and the hole, M0142:7, or with penalty strokes M0142:7+2"
        ));
    };
    match effect::outcomes(competition, id, 0, hole, added) {
        Some(outcomes) => {
            let text: String = outcomes.iter().map(effect::Outcome::words).collect();
            u8::from(world.out.write_all(plain_lines(&text).as_bytes()).is_err())
        }
        None => world.misuse(&format!("--ruling `{asked}`: no card of {id} with a hole {hole} has come in")),
    }
}

/// The object with how the latest result stands; `null` where none was closed.
fn with_proof(mut total: Value, proof: Option<&Proof>) -> Value {
    let closed = proof.map(|proof| {
        json!({
            "result": proof.result,
            "at": proof.at,
            "proved": proof.holds(),
            "changed": proof.changed,
            "touched": proof.touched,
            "same_total": proof.same_total,
        })
    });
    if let Some(object) = total.as_object_mut() {
        object.insert("closed".to_owned(), json!(closed));
    }
    total
}

fn written(competition: &Competition, totals: &Totals<'_>, args: &TotalArgs) -> String {
    match args.form.unwrap_or(Form::Text) {
        Form::Text => show::board(competition, totals),
        Form::Csv => show::csv(competition, totals, args.spreadsheet_safe),
        Form::Markdown => show::markdown(competition, totals),
        Form::Html => show::html(competition, totals),
        Form::Record => show::record_csv(&show::for_record(competition, totals), args.spreadsheet_safe),
        Form::Cards => plain_lines(&competition::proof::card_list(competition, totals)).into_owned(),
    }
}

fn answer(text: &str, args: &TotalArgs, world: &mut World<'_>) -> u8 {
    let Some(out) = &args.out else {
        return u8::from(world.out.write_all(text.as_bytes()).is_err());
    };
    match world.store.save(out, text.as_bytes(), if args.replace { Expect::Anything } else { Expect::New }) {
        Ok(saved) => u8::from(writeln!(world.out, "{}", saved.path.display()).is_err()),
        Err(error) => world.file_trouble(&error),
    }
}

/// Opens a competition by name or folder.
pub(super) fn open(name: &str, world: &mut World<'_>) -> Result<Opened, u8> {
    let found = world.find(Sort::Competition, name);
    // A bare name may also be a folder right here.
    let folder = match found {
        Ok(folder) => folder,
        Err(error) => return Err(world.file_trouble(&error)),
    };
    open_competition(&folder, world.store.shelf(), &world.current).map_err(|error| world.file_trouble(&error))
}

/// Says everything that is wrong with the files.
pub(super) fn say_problems(opened: &Opened, world: &mut World<'_>) {
    for file in &opened.files {
        let name = file.path.display().to_string();
        let _ = world.err.write_all(Report::new(&name, &file.text, &file.problems).to_text().as_bytes());
    }
    for error in &opened.unread {
        let _ = writeln!(world.err, "marram: {error}");
    }
}
