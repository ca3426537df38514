//! `field`: Course Handicap, Playing Handicap and strokes of every entry in a list.

use super::figures::NineChoice;
use super::problems::report;
use super::values::{Checker, number};
use super::{Asked, Card, CourseRatings, DATA, FINE, NamedText, RatedTee, Surroundings, USAGE};
use crate::competition::entries::{Entry, Wants, read_entries};
use crate::handicap::{
    Allowance, CourseHandicap, Nine, Percent, Play, Scoring, StrokeIndexes, course_handicap, par_difference,
    recommended, strokes_by_hole, team_handicap,
};
use crate::notebook::report::clean as shown;
use crate::notebook::table::read_table;
use crate::notebook::{Diagnostic, Severity};
use crate::units::tenths::whole_handicap_text;
use serde_json::{Value, json};
use std::collections::{BTreeMap, HashMap};
use std::io::{self, Write};

pub use crate::competition::entries::FIELD_CODES;

/// A field and what it plays.
#[derive(Clone, Debug, clap::Args)]
pub struct FieldArgs {
    /// Entries: CSV with name, handicap_index, and where needed id, tee, ratings, course_handicap, playing_handicap, team.
    #[arg(value_name = "FIELD.csv")]
    pub entries: String,
    /// The course.
    #[arg(long, value_name = "NAME")]
    pub course: String,
    /// The tee of entries that name none.
    #[arg(long)]
    pub tee: Option<String>,
    /// The golf format, like stroke, stableford, match, four-ball-stableford, foursomes.
    #[arg(long, value_name = "FORMAT")]
    pub play: String,
    /// Handicap allowance in per cent instead of the recommended one; shares from low to high like 60-40 for a side.
    #[arg(long, allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// Play one nine of an 18-hole course by its own ratings.
    #[arg(long, value_enum)]
    pub nine: Option<NineChoice>,
}

pub(super) fn field(
    args: &FieldArgs,
    asked: &Asked,
    around: &Surroundings<'_>,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let play = checker.take("--play", Play::parse(&args.play));
    let given = match (&args.allowance, play) {
        (Some(text), Some(play)) => checker.take("--allowance", allowance_of(text, play)),
        _ => None,
    };
    let (Some(play), true) = (play, checker.is_fine()) else {
        return checker.refuse(err);
    };
    let course = match (around.course)(&args.course) {
        Ok(course) => course,
        Err(problem) => return said(&problem, DATA, err),
    };
    let nine = args.nine.map(Nine::from);
    if let Some(tee) = &args.tee
        && let Err(problem) = course.rated(Some(tee), Card::Men, nine)
        && course.rated(Some(tee), Card::Women, nine).is_err()
    {
        return said(&format!("--tee `{tee}`: {problem}"), USAGE, err);
    }
    let source = match (around.read)(&args.entries) {
        Ok(source) => source,
        Err(problem) => return said(&problem, DATA, err),
    };
    let recommended = recommended(play);
    let allowance = given.unwrap_or(recommended.allowance);
    let work = Work { play, allowance, asked, tee: args.tee.as_deref(), nine };
    work.answer(&source, course.as_ref(), recommended.in_the_table || args.allowance.is_some(), out, err)
}

fn said(problem: &str, code: i32, err: &mut dyn Write) -> io::Result<i32> {
    writeln!(err, "error: {}", shown(problem))?;
    Ok(code)
}

/// One percentage, or shares for formats that have them.
///
/// # Errors
/// What is wrong with it, quoted as typed.
pub fn allowance_of(text: &str, play: Play) -> Result<Allowance, String> {
    match recommended(play).allowance {
        Allowance::Each(_) => Percent::parse(text).map(Allowance::Each).map_err(|fault| fault.to_string()),
        Allowance::Combined(_) => Percent::parse(text).map(Allowance::Combined).map_err(|fault| fault.to_string()),
        Allowance::LowToHigh(usual) => {
            let shares: Result<Vec<Percent>, _> = text.split('-').map(Percent::parse).collect();
            let shares = shares.map_err(|fault| fault.to_string())?;
            if shares.len() == usual.len() {
                Ok(Allowance::LowToHigh(shares))
            } else {
                let usual: Vec<String> = usual.iter().map(|share| share.value().to_string()).collect();
                Err(format!("`{text}`: {play} takes shares from low to high, like {}", usual.join("-")))
            }
        }
    }
}

struct Work<'a> {
    play: Play,
    allowance: Allowance,
    asked: &'a Asked,
    tee: Option<&'a str>,
    nine: Option<Nine>,
}

/// An entry with its tee and handicaps.
struct Worked<'t, 'a> {
    entry: &'a Entry<'t>,
    tee: usize,
    course: Option<CourseHandicap>,
    playing: i32,
    given: Option<&'static str>,
}

/// A tee with the stroke indexes checked.
struct Checked {
    tee: RatedTee,
    indexes: StrokeIndexes,
}

impl Work<'_> {
    fn answer(
        &self,
        source: &NamedText,
        course: &dyn CourseRatings,
        in_the_table: bool,
        out: &mut dyn Write,
        err: &mut dyn Write,
    ) -> io::Result<i32> {
        let (table, mut problems) = read_table(&source.text);
        let entries = read_entries(&table, Wants { handicap: true, team: self.play.one_ball() }, &mut problems);
        let (tees, of_entry) = self.tees(&entries, course, &mut problems);
        let worked = self.handicaps(&entries, &tees, &of_entry, &mut problems);
        if report(&source.name, &source.text, &problems, err)? {
            return Ok(DATA);
        }
        if !in_the_table {
            writeln!(
                err,
                "note: the published table has no allowance for {}; {} is that of the nearest format, --allowance sets another",
                self.play, self.allowance
            )?;
        }
        if self.play.scoring == Scoring::Match {
            writeln!(
                err,
                "note: strokes are those of the whole Playing Handicap; in a match the lowest plays off 0 and the others \
                 receive the difference"
            )?;
        }
        if self.asked.json {
            self.json(&worked, &tees, out)?
        } else {
            self.plain(&worked, &tees, out)?
        }
        Ok(FINE)
    }

    // Every tee that the field plays, looked up once, and which one each entry plays.
    fn tees(
        &self,
        entries: &[Entry<'_>],
        course: &dyn CourseRatings,
        problems: &mut Vec<Diagnostic>,
    ) -> (Vec<Checked>, Vec<Option<usize>>) {
        let mut tees: Vec<Checked> = Vec::new();
        let mut known: HashMap<(Option<&str>, Card), Result<usize, String>> = HashMap::new();
        let mut of_entry = Vec::with_capacity(entries.len());
        for entry in entries {
            let name = entry.tee.as_ref().map(|cell| cell.text.as_ref()).or(self.tee);
            let found = known.entry((name, Card::from(entry.card))).or_insert_with(|| {
                let tee = course.rated(name, entry.card.into(), self.nine)?;
                let indexes =
                    StrokeIndexes::new(&tee.stroke_indexes).map_err(|fault| format!("tee {}: {fault}", tee.name))?;
                tees.push(Checked { tee, indexes });
                Ok(tees.len() - 1)
            });
            match found {
                Ok(place) => of_entry.push(Some(*place)),
                Err(problem) => {
                    let span = entry.tee.as_ref().map_or(entry.span, |cell| cell.span);
                    problems.push(Diagnostic::error("field-tee", span, problem.clone()));
                    of_entry.push(None);
                }
            }
        }
        (tees, of_entry)
    }

    fn handicaps<'t, 'a>(
        &self,
        entries: &'a [Entry<'t>],
        tees: &[Checked],
        of_entry: &[Option<usize>],
        problems: &mut Vec<Diagnostic>,
    ) -> Vec<Worked<'t, 'a>> {
        let rules = &self.asked.rules;
        let lowest_par = tees.iter().map(|checked| checked.tee.rating.par).min().unwrap_or(0);
        let mut worked = Vec::with_capacity(entries.len());
        for (entry, place) in entries.iter().zip(of_entry) {
            let Some((place, checked)) = place.and_then(|place| Some((place, tees.get(place)?))) else {
                continue;
            };
            let course = match (entry.course_handicap, entry.index) {
                (Some(given), _) => Some(CourseHandicap::from_whole(given)),
                (None, Some(index)) => Some(course_handicap(index, &checked.tee.rating, rules)),
                (None, None) => None,
            };
            let difference = par_difference(self.play, checked.tee.rating.par, lowest_par);
            let own = match (&self.allowance, course) {
                (Allowance::Each(percent), Some(course)) => course.playing(*percent, difference, rules).value(),
                // A side's handicap follows below.
                _ => difference,
            };
            worked.push(Worked {
                entry,
                tee: place,
                course,
                playing: entry.playing_handicap.unwrap_or(own),
                given: match (entry.playing_handicap, entry.course_handicap) {
                    (Some(_), _) => Some("playing_handicap"),
                    (None, Some(_)) => Some("course_handicap"),
                    _ => None,
                },
            });
        }
        // A side that lacks a row which could not be read would only be blamed for it.
        let whole = problems.iter().all(|problem| problem.severity != Severity::Error);
        if whole && !matches!(self.allowance, Allowance::Each(_)) {
            self.sides(&mut worked, problems);
        }
        worked
    }

    // Partners with one ball share one handicap: the entries of a team are a side.
    fn sides(&self, worked: &mut [Worked<'_, '_>], problems: &mut Vec<Diagnostic>) {
        let mut teams: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (at, one) in worked.iter().enumerate() {
            match &one.entry.team {
                Some(team) => teams.entry(team.text.to_lowercase()).or_default().push(at),
                None => {
                    let problem = Diagnostic::error("field-team", one.entry.span, "no `team` in this row").advise(
                        format!("in {} partners share one handicap; the column `team` says who they are", self.play),
                    );
                    problems.push(problem);
                }
            }
        }
        for members in teams.into_values() {
            let of = |at: &usize| worked.get(*at);
            let courses: Vec<CourseHandicap> = members.iter().filter_map(|at| of(at)?.course).collect();
            let span = members.first().and_then(of).map_or_else(Default::default, |one| one.entry.span);
            if members.len() != self.play.players() {
                let message = format!(
                    "a side in {} has {} players, this team has {}",
                    self.play,
                    self.play.players(),
                    members.len()
                );
                problems.push(Diagnostic::error("field-team-size", span, message));
                continue;
            }
            // A Playing Handicap that was given holds for the side.
            let given = members.iter().filter_map(|at| of(at)?.entry.playing_handicap).next();
            // Until now each partner holds what their tee's par adds; the side adds the most of them.
            let difference = members.iter().filter_map(|at| Some(of(at)?.playing)).max().unwrap_or(0);
            let side = match (given, team_handicap(&self.allowance, &courses, &self.asked.rules)) {
                (Some(given), _) => given,
                (None, Ok(side)) => side.value() + difference,
                (None, Err(fault)) => {
                    problems.push(Diagnostic::error("field-team-size", span, fault.to_string()));
                    continue;
                }
            };
            for at in members {
                if let Some(one) = worked.get_mut(at) {
                    one.playing = side;
                }
            }
        }
    }

    fn json(&self, worked: &[Worked<'_, '_>], tees: &[Checked], out: &mut dyn Write) -> io::Result<()> {
        for one in worked {
            let Some(checked) = tees.get(one.tee) else {
                continue;
            };
            let index = one.entry.index;
            let object = json!({
                "schema": "marram/handicap-field/1",
                "id": one.entry.id.as_ref().map(|id| id.text.as_ref()),
                "name": one.entry.name,
                "index": index.map_or(Value::Null, |index| number(index.value())),
                "index_text": index.map(|index| index.to_string()),
                "course_handicap": one.course.map(CourseHandicap::rounded),
                "playing_handicap": one.playing,
                "strokes": strokes_by_hole(one.playing, &checked.indexes),
                "tee": checked.tee.name,
                "ratings": Card::from(one.entry.card).word(),
                "team": one.entry.team.as_ref().map(|team| team.text.as_ref()),
                "given": one.given,
            });
            serde_json::to_writer(&mut *out, &object)?;
            out.write_all(b"\n")?;
        }
        Ok(())
    }

    fn plain(&self, worked: &[Worked<'_, '_>], tees: &[Checked], out: &mut dyn Write) -> io::Result<()> {
        let widest = worked.iter().map(|one| one.entry.name.chars().count()).max().unwrap_or(4).clamp(4, 30);
        writeln!(out, "{}, {}", self.play, self.allowance)?;
        writeln!(out, "{:<widest$}  {:>5}  {:>6}  {:>7}  strokes by hole", "name", "index", "course", "playing")?;
        for one in worked {
            let Some(checked) = tees.get(one.tee) else {
                continue;
            };
            let strokes: Vec<String> =
                strokes_by_hole(one.playing, &checked.indexes).iter().map(|strokes| format!("{strokes:>3}")).collect();
            writeln!(
                out,
                "{:<widest$}  {:>5}  {:>6}  {:>7}  {}",
                shown(&one.entry.name),
                one.entry.index.map_or_else(|| "-".to_owned(), |index| index.to_string()),
                one.course.map_or_else(|| "-".to_owned(), |course| whole_handicap_text(course.rounded())),
                whole_handicap_text(one.playing),
                strokes.concat()
            )?;
        }
        Ok(())
    }
}
