//! `marram putt`: where to start a putt, how hard, how likely.

use std::io::Write;

use clap::Args;
use serde_json::{Map, Value, json};

use super::values::{self, Known, Skill, Typed, TypedLength, TypedUnit, WRONG_COMMAND, json_figure, within};
use crate::putting::{
    Aim, GreenSpeed, HOLE_RADIUS_M, LeaveMap, LeaveSetting, Line, NoAim, Plane, PuttingSkill, STEP_S, aim, break_words,
    chances, usual_past_m,
};

/// Where to start a putt on one slope, how hard, and how likely it is.
#[derive(Args, Clone, Debug)]
pub struct PuttArgs {
    /// Green speed, Stimpmeter feet
    #[arg(long, value_name = "FEET", value_parser = values::green_speed, allow_hyphen_values = true)]
    pub speed: Typed<f64>,
    /// Length of the putt (6m, 20ft)
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub length: Typed<TypedLength>,
    /// Per cent falling to the left of the line; negative falls to the right
    #[arg(long, value_name = "PCT", value_parser = values::per_cent, allow_hyphen_values = true)]
    pub cross: Option<Typed<f64>>,
    /// Per cent falling towards the hole; negative is uphill
    #[arg(long, value_name = "PCT", value_parser = values::per_cent, allow_hyphen_values = true)]
    pub along: Option<Typed<f64>>,
    /// How far it would roll past the hole; by its length unless given
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub past: Option<Typed<TypedLength>>,
    /// Whose errors: tour, men:10, women:24
    #[arg(long, value_name = "SKILL", value_parser = values::skill)]
    pub skill: Option<Typed<Skill>>,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

/// Runs the command without a player. Exit code 0, also when the putt has no answer; 2 for a value out of its bounds.
pub fn run(args: &PuttArgs, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    run_for(args, &Known::default(), out, err)
}

/// Runs the command for a player: his unit and his skill serve where none is typed.
pub fn run_for(args: &PuttArgs, known: &Known, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    match answer(args, known) {
        Ok(answer) => {
            let text = if args.json { answer.json() } else { answer.plain() };
            i32::from(writeln!(out, "{text}").is_err())
        }
        Err(message) => {
            let _ = writeln!(err, "marram: {message}");
            WRONG_COMMAND
        }
    }
}

/// The errors of a skill.
pub fn putting_skill(skill: Skill) -> PuttingSkill {
    match skill {
        Skill::Tour => PuttingSkill::TOUR,
        Skill::Men(index) => PuttingSkill::men(index),
        Skill::Women(index) => PuttingSkill::women(index),
    }
}

struct Answer {
    unit: TypedUnit,
    length_m: f64,
    past_m: f64,
    skill: String,
    result: Result<Found, NoAim>,
}

struct Found {
    aim: Aim,
    holed: f64,
    three: f64,
}

fn answer(args: &PuttArgs, known: &Known) -> Result<Answer, String> {
    let feet = within("--speed", &args.speed, args.speed.value, (3.0, 20.0), "feet")?;
    let speed = GreenSpeed::stimp(feet).map_err(|e| e.to_string())?;
    let length_m = args.length.metres("--length", known.unit)?;
    within("--length", &args.length, length_m, (0.1, 60.0), "m")?;
    let slope = |option: &str, typed: &Option<Typed<f64>>| match typed {
        Some(t) => within(option, t, t.value, (-30.0, 30.0), "per cent"),
        None => Ok(0.0),
    };
    let plane = Plane::of_putt(slope("--cross", &args.cross)?, slope("--along", &args.along)?);
    let past_m = match &args.past {
        Some(typed) => within("--past", typed, typed.metres("--past", known.unit)?, (0.0, 5.0), "m")?,
        None => usual_past_m(length_m),
    };
    let (skill, words) = match (&args.skill, known.skill) {
        (Some(typed), _) => (typed.value, typed.text.clone()),
        (None, Some(skill)) => (skill, known.player.clone().unwrap_or_else(|| "the player".to_owned())),
        (None, None) => (Skill::Tour, "tour".to_owned()),
    };
    let skill = putting_skill(skill);
    let line = Line::along_x(length_m);
    let result = aim(&plane, speed, &line, past_m).map(|found| {
        let c = chances(&plane, speed, &line, &found, &skill, STEP_S);
        let map = LeaveMap::new(&plane, &LeaveSetting::rings(speed, line.hole, skill), |_| true, |_| None);
        Found { aim: found, holed: c.holed, three: map.three_after(&c.leaves) }
    });
    Ok(Answer { unit: args.length.unit(known.unit), length_m, past_m, skill: words, result })
}

impl Answer {
    fn json(&self) -> String {
        let found = self.result.as_ref().ok();
        let figure = |f: fn(&Found) -> f64| found.map_or(Value::Null, |x| json_figure(f(x)));
        let mut o = Map::new();
        o.insert("schema".into(), json!("marram/putt/1"));
        o.insert("aim_m".into(), figure(|f| f.aim.aim_m));
        o.insert("start_m_s".into(), figure(|f| f.aim.start_m_s));
        o.insert("flat_length_m".into(), figure(|f| f.aim.flat_length_m));
        o.insert("at_hole_m_s".into(), figure(|f| f.aim.at_hole_m_s));
        o.insert("chance_holed".into(), figure(|f| f.holed));
        o.insert("chance_three_or_more".into(), figure(|f| f.three));
        o.insert("past_m".into(), json_figure(self.past_m));
        o.insert("skill".into(), json!(self.skill));
        if let Err(why) = &self.result {
            o.insert("why".into(), json!(why.to_string()));
            let works = match why {
                NoAim::NeverStops { works_pct, .. } | NoAim::TooMuchBreak { works_pct } => json_figure(*works_pct),
                NoAim::NoLength => Value::Null,
            };
            o.insert("works_pct".into(), works);
        }
        Value::Object(o).to_string()
    }

    fn plain(&self) -> String {
        // Putts are felt to the tenth of a foot and the hundredth of a metre.
        let show = |m: f64| self.unit.show(m, if self.unit == TypedUnit::Metres { 2 } else { 1 });
        match &self.result {
            Err(why) => format!("No answer for {}: {why}.", show(self.length_m)),
            Ok(f) => {
                let cups = f.aim.aim_m / (2.0 * HOLE_RADIUS_M);
                let side = if f.aim.aim_m < 0.0 { "left" } else { "right" };
                let aim = match break_words(cups) {
                    w if w == "straight" => "Start it straight".to_owned(),
                    w => format!("Start it {} {side} of the middle of the hole ({w})", show(f.aim.aim_m.abs())),
                };
                format!(
                    "{aim}, as hard as a level putt of {} ({:.2} m/s).\nIt comes to the hole at {:.2} m/s and would roll {} past.\nHoled {:.0} %, three putts or more {:.0} % ({}). Grain is not modelled.",
                    show(f.aim.flat_length_m),
                    f.aim.start_m_s,
                    f.aim.at_hole_m_s,
                    show(self.past_m),
                    100.0 * f.holed,
                    100.0 * f.three,
                    self.skill
                )
            }
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use clap::Parser;

    #[derive(Parser)]
    struct Cli {
        #[command(flatten)]
        args: PuttArgs,
    }

    fn call(words: &str) -> (i32, String, String) {
        match Cli::try_parse_from(std::iter::once("putt").chain(words.split_whitespace())) {
            Ok(cli) => {
                let (mut out, mut err) = (Vec::new(), Vec::new());
                let code = run(&cli.args, &mut out, &mut err);
                (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
            }
            Err(e) => (e.exit_code(), String::new(), e.to_string()),
        }
    }

    fn figures(words: &str) -> Value {
        let (code, out, err) = call(&format!("{words} --json"));
        assert_eq!((code, err.as_str()), (0, ""), "{words}");
        assert!(out.starts_with("{\"schema\":\"marram/putt/1\""));
        serde_json::from_str(&out).unwrap()
    }

    #[test]
    fn the_fixed_form() {
        let v = figures("--speed 10 --length 3m --cross 2 --along -2 --past 0.3m");
        assert!((v["aim_m"].as_f64().unwrap() - 0.2304).abs() < 1e-3);
        assert!((v["start_m_s"].as_f64().unwrap() - 2.1331).abs() < 1e-3);
        assert!((v["at_hole_m_s"].as_f64().unwrap() - 0.6427).abs() < 1e-3);
        for key in ["flat_length_m", "chance_holed", "chance_three_or_more"] {
            assert!(v[key].is_number(), "{key}");
        }
    }

    #[test]
    fn a_fall_to_the_right_is_aimed_left_by_as_much() {
        let a = figures("--speed 10 --length 6m --cross 2");
        let b = figures("--speed 10 --length 6m --cross -2");
        assert_eq!(a["aim_m"].as_f64().unwrap(), -b["aim_m"].as_f64().unwrap());
        assert_eq!(a["chance_holed"], b["chance_holed"]);
    }

    #[test]
    fn no_answer_says_why_and_what_works() {
        let v = figures("--speed 12 --length 3m --along 8");
        assert!(v["aim_m"].is_null() && v["chance_holed"].is_null());
        assert!(v["why"].as_str().unwrap().contains("6.5 %"), "{v}");
        let v = figures("--speed 13 --length 8m --cross 12");
        assert!(v["start_m_s"].is_null());
        assert!(v["works_pct"].as_f64().unwrap() < 12.0);
    }

    #[test]
    fn values_out_of_bounds_are_a_wrong_command() {
        for words in [
            "--length 6m --speed 0",
            "--length 6m --speed 30",
            "--speed 10 --length 6",
            "--speed 10 --length 0m",
            "--speed 10 --length 61m",
            "--speed 10 --length 6m --cross 31",
            "--speed 10 --length 6m --along -31",
            "--speed 10 --length 6m --past -1m",
            "--speed 10 --length 6m --skill men:-2",
            "--speed ten --length 6m",
        ] {
            let (code, out, err) = call(words);
            assert_eq!((code, out.as_str()), (2, ""), "{words}: {err}");
        }
    }

    #[test]
    fn plain_text() {
        let (code, out, _) = call("--speed 10 --length 20ft --cross 2 --skill men:18");
        assert_eq!(code, 0);
        assert!(out.contains("right of the middle of the hole") && out.contains("men:18"), "{out}");
        assert!(out.contains(" ft "), "{out}");
    }
}
