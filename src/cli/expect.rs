//! `marram expect`: strokes to hole out from a lie and distance on plain ground.

use std::io::Write;
use std::sync::atomic::AtomicBool;

use clap::{Args, ValueEnum};
use serde_json::{Map, json};

use super::values::{self, Known, Typed, TypedLength, WRONG_COMMAND, json_figure, within};
use crate::course::Card;
use crate::pattern::{Lie, Skill};
use crate::strategy::expect;
use crate::units::length::METRES_PER_YARD;

/// Distances off the green, yards.
pub const YARDS: (f64, f64) = (1.0, 620.0);
/// Distances on the green, feet.
pub const FEET: (f64, f64) = (0.5, 120.0);

/// How the ball lies, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LieWord {
    /// On the tee
    Tee,
    /// On the fairway
    Fairway,
    /// In the rough, 24 yards off the line
    Rough,
    /// In a bunker
    Sand,
    /// Under trees: a stroke to recover
    Trees,
    /// On the putting green
    Green,
}

impl LieWord {
    const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Fairway => "fairway",
            Self::Rough => "rough",
            Self::Sand => "sand",
            Self::Trees => "trees",
            Self::Green => "green",
        }
    }

    const fn lie(self) -> Option<Lie> {
        match self {
            Self::Tee => Some(Lie::Tee),
            Self::Fairway => Some(Lie::Fairway),
            Self::Rough => Some(Lie::Rough),
            Self::Sand => Some(Lie::Sand),
            Self::Trees => Some(Lie::Trees),
            Self::Green => None,
        }
    }
}

/// Strokes to hole out from a lie and distance on plain ground.
#[derive(Args, Clone, Debug)]
pub struct ExpectArgs {
    /// How the ball lies
    #[arg(long, value_enum)]
    pub lie: LieWord,
    /// How far from the hole: 150y or 137m, 1 to 620 yards; on the green 20ft, 0.5 to 120 feet
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub distance: Typed<TypedLength>,
    /// Whose strokes: tour, or men:10 or women:24 for a Handicap Index
    #[arg(long, value_name = "SKILL", value_parser = values::skill, allow_hyphen_values = true)]
    pub skill: Option<Typed<values::Skill>>,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

/// Runs the command without a player. Exit code 0, or 2 for a value out of its bounds.
pub fn run(args: &ExpectArgs, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    run_for(args, &Known::default(), out, err)
}

/// Runs the command for a player, whose unit serves where none is typed. The skill stays the tour's unless typed.
pub fn run_for(args: &ExpectArgs, known: &Known, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    match answer(args, known) {
        Ok(text) => i32::from(writeln!(out, "{text}").is_err()),
        Err(message) => {
            let _ = writeln!(err, "error: {message}");
            WRONG_COMMAND
        }
    }
}

fn answer(args: &ExpectArgs, known: &Known) -> Result<String, String> {
    let yards = args.distance.metres("--distance", known.unit)? / METRES_PER_YARD;
    let typed = args.skill.as_ref();
    let skill = match typed.map(|t| t.value) {
        None | Some(values::Skill::Tour) => Skill::tour(Card::Men),
        Some(values::Skill::Men(index)) => of_index(index, Card::Men, typed)?,
        Some(values::Skill::Women(index)) => of_index(index, Card::Women, typed)?,
    };
    let who = typed.map_or("tour", |t| t.text.as_str());
    let unit = args.distance.unit(known.unit);
    let strokes = match args.lie.lie() {
        None => {
            within("--distance", &args.distance, tidy(yards * 3.0), FEET, "feet on the green")?;
            skill.putts().average(yards)
        }
        Some(lie) => {
            within("--distance", &args.distance, tidy(yards), YARDS, "yards")?;
            expect(skill, lie, yards, &AtomicBool::new(false)).map_err(|e| e.to_string())?
        }
    };
    if !args.json {
        let shown = unit.show(yards * METRES_PER_YARD, 1);
        return Ok(format!("{strokes:.2} strokes from {shown}, {}, {who}", args.lie.word()));
    }
    let mut o = Map::new();
    o.insert("schema".into(), json!("marram/expect/1"));
    o.insert("strokes".into(), json_figure((strokes * 1000.0).round() / 1000.0));
    o.insert("lie".into(), json!(args.lie.word()));
    o.insert("distance_yd".into(), json_figure(yards));
    o.insert("skill".into(), json!(who));
    Ok(serde_json::Value::Object(o).to_string())
}

/// A bound typed in another unit must not fail by a last digit.
fn tidy(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

fn of_index(index: f64, card: Card, typed: Option<&Typed<values::Skill>>) -> Result<Skill, String> {
    if index < 0.0 {
        return Err(format!(
            "--skill {}: the calibrated rows end at scratch, and the tour's row, measured on harder courses, is no neighbour to \
             reckon from; use men:0, women:0 or tour",
            typed.map_or("", |t| t.text.as_str())
        ));
    }
    Ok(Skill::of_index(index, card))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    fn ask(lie: LieWord, distance: &str, skill: Option<&str>) -> (i32, String, String) {
        let args = ExpectArgs {
            lie,
            distance: values::length(distance).unwrap(),
            skill: skill.map(|s| values::skill(s).unwrap()),
            json: true,
        };
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let code = run(&args, &mut out, &mut err);
        (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
    }

    fn strokes(answer: &str) -> f64 {
        serde_json::from_str::<serde_json::Value>(answer).unwrap()["strokes"].as_f64().unwrap()
    }

    /// Broadie, Interfaces 42(2), 2012: fairway, 150 yards lies between 2.91 (140) and 2.98 (160); 20 ft 1.878 putts.
    #[test]
    fn the_tour_by_default() {
        let (code, out, _) = ask(LieWord::Fairway, "150y", None);
        assert_eq!(code, 0);
        assert!((strokes(&out) - 2.945).abs() < 0.07, "{out}");
        let (_, in_metres, _) = ask(LieWord::Fairway, "137.16m", None);
        assert_eq!(strokes(&out), strokes(&in_metres));
        let (_, putt, _) = ask(LieWord::Green, "20ft", None);
        assert!((strokes(&putt) - 1.878).abs() < 0.04);
    }

    #[test]
    fn bounds_and_plus_handicaps_are_refused_with_the_reason() {
        for (lie, distance, skill, part) in [
            (LieWord::Fairway, "0.5y", None, "1 to 620 yards"),
            (LieWord::Tee, "621y", None, "1 to 620 yards"),
            (LieWord::Green, "0.2ft", None, "0.5 to 120 feet"),
            (LieWord::Green, "121ft", None, "0.5 to 120 feet"),
            (LieWord::Rough, "150", None, "150y or 150yd"),
            (LieWord::Rough, "150y", Some("men:+1.3"), "end at scratch"),
        ] {
            let (code, out, err) = ask(lie, distance, skill);
            assert_eq!((code, out.as_str()), (2, ""), "{distance}");
            assert!(err.contains(part), "{err}");
        }
    }

    #[test]
    fn the_ends_are_answered() {
        for (lie, distance) in [
            (LieWord::Fairway, "1y"),
            (LieWord::Sand, "1y"),
            (LieWord::Trees, "1y"),
            (LieWord::Tee, "620yd"),
            (LieWord::Rough, "620y"),
            (LieWord::Green, "120ft"),
            (LieWord::Green, "0.5ft"),
        ] {
            let (code, out, err) = ask(lie, distance, Some("women:54"));
            assert_eq!(code, 0, "{err}");
            assert!((1.0..15.0).contains(&strokes(&out)), "{out}");
        }
    }
}
