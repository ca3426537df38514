//! `marram book COURSE`: the pocket book and the other papers.

mod papers;
mod players;
mod write;

use super::World;
use crate::handicap::Play;
use crate::plan::{Aimed, Frozen};
use crate::print::{Book, Edition, Leaf, Shortened, Size, Wish, book, papers as paper};
use crate::session::{PlayWish, Session};
use crate::shelf;
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use std::time::Instant;

/// What to print.
#[derive(Clone, Debug, Args)]
pub struct BookArgs {
    /// The course: a name on the shelf or a file; for a start sheet or results the competition.
    pub course: String,
    /// The form.
    #[arg(long = "as", value_enum, value_name = "FORM", default_value = "pdf")]
    pub form: Form,
    /// Which paper.
    #[arg(long, value_enum, value_name = "PAPER", default_value = "book")]
    pub paper: Paper,
    /// The player; the only one, else the last used, else one assumed from index 18.
    #[arg(long)]
    pub player: Option<String>,
    /// The tee.
    #[arg(long)]
    pub tee: Option<String>,
    /// The day sheet.
    #[arg(long)]
    pub day: Option<String>,
    /// The golf format, when it is another than the day sheet's: stroke, stableford, par-bogey, maximum, match, net-par.
    #[arg(long, value_name = "FORMAT")]
    pub play: Option<String>,
    /// A round whose frozen plan is printed.
    #[arg(long, value_name = "ROUND")]
    pub round: Option<String>,
    /// The size of a page: 4.25x7in, 90x140mm, a6, a5, a4, letter.
    #[arg(long, value_name = "SIZE")]
    pub page: Option<String>,
    /// Pages on sheets with marks for folding and cutting: a4 or letter.
    #[arg(long, value_name = "SHEET")]
    pub impose: Option<String>,
    /// Greens held to the limits of Rule 4.3a, or left out.
    #[arg(long)]
    pub competition: bool,
    /// The notebook by tee for no player in particular; without --tee one book a tee set, one after the other.
    #[arg(long, conflicts_with_all = ["player", "pupils", "round"])]
    pub professional: bool,
    /// One book for each pupil of a list (columns player, tee), into the folder --out.
    #[arg(long, value_name = "LIST.csv", conflicts_with_all = ["player", "round"])]
    pub pupils: Option<String>,
    /// One hole only.
    #[arg(long, value_name = "N")]
    pub hole: Option<u8>,
    /// Only the pages that differ from this older edition of the notebook.
    #[arg(long, value_name = "OLD")]
    pub since: Option<String>,
    /// Leave out: plan, greens.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "PART")]
    pub without: Vec<Part>,
    /// Where to write: a file; for SVG and for pupils a folder. Without it the bytes go to standard output.
    #[arg(long, value_name = "FILE|DIR")]
    pub out: Option<PathBuf>,
    /// Write over files that are there.
    #[arg(long)]
    pub replace: bool,
    /// Times to standard error.
    #[arg(long)]
    pub timings: bool,
}

/// The forms of a paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For a printer or a phone.
    Pdf,
    /// A picture a page.
    Svg,
    /// For any printer.
    Text,
}

impl Form {
    /// The ending of its files.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Text => "txt",
        }
    }
}

/// The papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// The pocket book.
    Book,
    /// The card with strokes marked.
    Card,
    /// The greens alone.
    Greens,
    /// Every hole on one page.
    Course,
    /// The hole-location sheet of a day.
    HoleLocations,
    /// The start sheet of a competition.
    StartSheet,
    /// The notice of a competition's results.
    Results,
}

/// Parts that can be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Part {
    /// The plan.
    Plan,
    /// Pages of greens.
    Greens,
}

/// What is made: a name for its file and its leaves.
pub(super) struct Made {
    /// The file's name without its ending.
    pub name: String,
    /// The title.
    pub title: String,
    /// Who wrote the notebook.
    pub author: Option<String>,
    /// The leaves.
    pub leaves: Vec<Leaf>,
}

/// Sizes and form as they were asked for.
pub(super) struct Print {
    pub form: Form,
    pub page: Size,
    pub sheet: Option<Size>,
}

/// Runs the command.
pub fn run(args: &BookArgs, world: &mut World<'_>) -> u8 {
    let print = match sizes(args) {
        Ok(print) => print,
        Err(words) => return world.misuse(&words),
    };
    if matches!(args.paper, Paper::StartSheet | Paper::Results) {
        return papers::competition(args, &print, world);
    }
    let aimed = match args.play.as_deref() {
        None => None,
        Some(word) => match Aimed::read(word).or_else(|| usual_aim(word)) {
            Some(aimed) => Some(aimed),
            None => {
                return world.misuse(&format!(
                    "--play `{word}` is none of stroke, stableford, par-bogey, maximum, match, net-par"
                ));
            }
        },
    };
    let sessions = match players::open(args, world) {
        Ok(sessions) => sessions,
        Err(code) => return code,
    };
    let mut made = Vec::new();
    for mut opened in sessions {
        if let Err(words) = fit_format(&mut opened.session, args.play.as_deref()) {
            return world.misuse(&words);
        }
        match leaves(args, &print, &opened, aimed, world) {
            Ok(one) => made.extend(one),
            Err(code) => return code,
        }
    }
    write::write(args, &print, made, world)
}

/// A four-ball or foursomes is planned for as its scoring.
fn usual_aim(word: &str) -> Option<Aimed> {
    use crate::handicap::Scoring;
    Some(match Play::parse(word).ok()?.scoring {
        Scoring::Stableford => Aimed::Points,
        Scoring::ParBogey => Aimed::ParBogey,
        Scoring::Maximum => Aimed::Maximum(None),
        Scoring::Match => Aimed::Match,
        Scoring::Stroke => Aimed::Strokes,
    })
}

fn sizes(args: &BookArgs) -> Result<Print, String> {
    let usual = match args.paper {
        Paper::HoleLocations | Paper::StartSheet | Paper::Results => Size::A4,
        _ => Size::POCKET,
    };
    let page = match &args.page {
        Some(text) => Size::read(text).map_err(|e| format!("--page `{text}`: {e}"))?,
        None => usual,
    };
    let sheet = match args.impose.as_deref().map(str::to_lowercase).as_deref() {
        None => None,
        Some("a4") => Some(Size::A4),
        Some("letter") => Some(Size::LETTER),
        Some(other) => return Err(format!("--impose `{other}` is none of a4, letter")),
    };
    if sheet.is_some() && args.form != Form::Pdf {
        return Err("--impose lays pages of a PDF on sheets; take --as pdf".to_owned());
    }
    if let Some(sheet) = sheet {
        crate::print::impose::impose(&[], page, sheet).map_err(|e| format!("--impose: {e}"))?;
    }
    Ok(Print { form: args.form, page, sheet })
}

/// Strokes received by the format that was asked for, where no round says them.
fn fit_format(session: &mut Session, play: Option<&str>) -> Result<(), String> {
    let Some(play) = play.and_then(|p| Play::parse(p).ok()) else { return Ok(()) };
    if session.round.is_some() {
        return Err("a frozen plan has its own format; leave --play out".to_owned());
    }
    // A format for pairs or against somebody cannot be laid out for one player: their own strokes stay.
    let Ok(arranged) = session.arrange(&PlayWish::usual(play)) else { return Ok(()) };
    for (golfer, (playing, strokes)) in
        session.golfers.iter_mut().zip(arranged.playing.into_iter().zip(arranged.strokes))
    {
        golfer.playing_handicap = playing.unwrap_or(0);
        golfer.strokes = strokes;
    }
    Ok(())
}

/// The leaves for one session: one book, or of the professional's edition one a tee set.
fn leaves(
    args: &BookArgs,
    print: &Print,
    opened: &players::Chosen,
    aimed: Option<Aimed>,
    world: &mut World<'_>,
) -> Result<Vec<Made>, u8> {
    let session = &opened.session;
    let Some(course) = &session.course else {
        let _ = writeln!(world.err, "marram: the notebook cannot be read; marram check names its problems");
        return Err(1);
    };
    let tees: Vec<Option<String>> = match (&args.tee, args.professional) {
        (Some(tee), _) if course.tee(tee).is_none() => {
            let names: Vec<&str> = course.tees.iter().map(|t| t.name.as_str()).collect();
            return Err(world.misuse(&format!(
                "--tee `{tee}` is no tee of {}; it has {}",
                course.name,
                names.join(", ")
            )));
        }
        (Some(tee), _) => vec![Some(tee.clone())],
        (None, true) => course.tees.iter().map(|t| Some(t.name.clone())).collect(),
        (None, false) => vec![None],
    };
    if let Some(hole) = args.hole.filter(|h| !session.order.contains(h)) {
        return Err(world.misuse(&format!("--hole {hole} is no hole of {}", course.name)));
    }
    let rules = session.day.as_ref().is_some_and(|(day, _)| day.kind.under_the_rules())
        || session.round.as_ref().is_some_and(|r| r.opening().kind.under_the_rules());
    let wish = Wish {
        edition: if args.professional { Edition::Professional } else { Edition::Player },
        competition: args.competition || rules,
        greens: !args.without.contains(&Part::Greens),
        page: print.page,
        draws: args.form != Form::Text,
    };
    if rules && !args.competition {
        let _ = writeln!(
            world.err,
            "the day is played under the Rules: greens are held to the limits of Rule 4.3a (the competition edition)"
        );
    }
    let started = Instant::now();
    let plans = planned(args, session, aimed);
    if args.timings {
        let _ = writeln!(world.err, "plans in {:?}", started.elapsed());
    }
    let started = Instant::now();
    let mut made = Vec::new();
    for tee in tees {
        let Some(one) = Book::new(session, 0, tee.as_deref(), plans.as_ref(), &wish) else {
            let _ = writeln!(world.err, "marram: there is no player to make a book for");
            return Err(1);
        };
        let mut leaves = pick(args, &one, &wish);
        if let Some(old) = &opened.old {
            let before = planned(args, old, aimed);
            let mut old = old.clone();
            // The small print differs by the edition alone; what is compared is what a player reads.
            old.day.clone_from(&session.day);
            let old_book = Book::new(&old, 0, tee.as_deref(), before.as_ref(), &wish);
            leaves = paper::replaced(&old_book.map(|b| pick(args, &b, &wish)).unwrap_or_default(), leaves);
        }
        let title = format!("{}, {} tee, {}", course.name, one.tee_name(), one.whose());
        let name = match args.professional {
            true => format!("{}-{}", crate::round::slug(&course.name), crate::round::slug(one.tee_name())),
            false => format!("{}-{}", crate::round::slug(&course.name), crate::round::slug(&one.golfer.name)),
        };
        made.push(Made { name, title, author: course.by.clone(), leaves });
    }
    if args.timings {
        let _ = writeln!(world.err, "leaves in {:?}", started.elapsed());
    }
    if made.iter().all(|m| m.leaves.is_empty()) {
        let what =
            if args.since.is_some() { "no page differs from the older edition" } else { "there is nothing to print" };
        let _ = writeln!(world.err, "marram: {what}");
        return Err(u8::from(args.since.is_none()));
    }
    Ok(made)
}

/// The plan that a book prints: the frozen one of a round, else one made now; none where nothing of it is printed.
fn planned(args: &BookArgs, session: &Session, aimed: Option<Aimed>) -> Option<Frozen> {
    let wanted = args.paper == Paper::Book && !args.professional && !args.without.contains(&Part::Plan);
    if !wanted {
        return None;
    }
    match &session.frozen {
        Some(frozen) => Some(frozen.clone()),
        None => Some(shelf::plans_for(session, aimed.unwrap_or_else(|| session.aimed()))),
    }
}

/// The leaves of the paper that was asked for.
fn pick(args: &BookArgs, one: &Book<'_>, wish: &Wish) -> Vec<Leaf> {
    match args.paper {
        Paper::Book => {
            let mut leaves = book::book(one, wish);
            if let Some(hole) = args.hole {
                leaves.retain(|leaf| leaf.name == format!("hole {hole}"));
            }
            leaves
        }
        Paper::Card => vec![crate::print::cover::card(one)],
        Paper::Greens => book::greens(one, wish),
        Paper::Course => {
            let holes: Vec<_> = (0..one.session.order.len())
                .filter_map(|p| crate::print::hole::HoleValues::new(one, p, true))
                .collect();
            crate::print::cover::whole_course(one, &holes).into_iter().collect()
        }
        Paper::HoleLocations => {
            let day = one.session.day.as_ref().map(|(day, _)| day);
            day.map(|day| paper::hole_locations(one.course, day, one.units)).into_iter().collect()
        }
        // These have no course of their own; they were made before.
        Paper::StartSheet | Paper::Results => Vec::new(),
    }
}

/// What did not fit, said beside the paper.
pub(super) fn say_shortened(shortened: &[Shortened], world: &mut World<'_>) {
    for one in shortened {
        let _ = writeln!(world.err, "{}", one.sentence());
    }
}
