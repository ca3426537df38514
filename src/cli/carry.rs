//! `marram carry`: what a carry becomes in other air, wind and height.

use std::io::Write;

use clap::Args;
use serde_json::{Map, Value, json};

use super::values::{
    self, Known, Typed, TypedLength, TypedUnit, TypedWind, WRONG_COMMAND, WRONG_DATA, json_figure, within,
};
use crate::flight::{BAND_PCT, Family, ISA_PRESSURE_PA, Weather, Wind};

/// Driver carry assumed where none is given: 185 yards, index 18 on the men's card.
///
/// # References
/// Drive of 250 - 2.5 h yards (Course Rating definitions) less the 20 yards of roll of the Course Rating System.
pub const ASSUMED_DRIVER_M: f64 = 185.0 * 0.9144;

/// What a carry becomes in other air, wind and height.
#[derive(Args, Clone, Debug)]
pub struct CarryArgs {
    /// Your carry in still air on level ground at sea level, 15 °C (150y, 137m)
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub carry: Typed<TypedLength>,
    /// Carry of your driver in the same air; it sets how your clubs fly
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub driver: Option<Typed<TypedLength>>,
    /// Wind at 10 m and the angle it blows from: 5m/s@90 or 12mph@90 (0 in the face, 90 from the right)
    #[arg(long, value_name = "WIND", value_parser = values::wind, allow_hyphen_values = true)]
    pub wind: Option<Typed<TypedWind>>,
    /// Temperature, °C; 15 unless given
    #[arg(long, value_name = "C", value_parser = values::temperature, allow_hyphen_values = true)]
    pub temperature: Option<Typed<f64>>,
    /// Relative humidity, per cent
    #[arg(long, value_name = "PCT", value_parser = values::per_cent, allow_hyphen_values = true)]
    pub humidity: Option<Typed<f64>>,
    /// Height above the sea, metres unless it says otherwise
    #[arg(long, value_name = "M", value_parser = values::length, allow_hyphen_values = true)]
    pub height: Option<Typed<TypedLength>>,
    /// Pressure at sea level, hPa
    #[arg(long, value_name = "HPA", value_parser = values::pressure, allow_hyphen_values = true)]
    pub pressure: Option<Typed<f64>>,
    /// How far the landing lies above the ball; negative is below
    #[arg(long, value_name = "LENGTH", value_parser = values::length, allow_hyphen_values = true)]
    pub rise: Option<Typed<TypedLength>>,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

/// Runs the command without a player. Exit code 0, 1 outside the model's range, 2 for a value out of its bounds.
pub fn run(args: &CarryArgs, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    run_for(args, &Known::default(), out, err)
}

/// Runs the command for a player: his unit and his driver serve where none is typed.
pub fn run_for(args: &CarryArgs, known: &Known, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    match answer(args, known) {
        Ok(answer) => {
            let text = if args.json { answer.json() } else { answer.plain() };
            i32::from(writeln!(out, "{text}").is_err())
        }
        Err((code, message)) => {
            let _ = writeln!(err, "marram: {message}");
            code
        }
    }
}

struct Answer {
    unit: TypedUnit,
    asked_m: f64,
    driver_m: f64,
    driver_from: String,
    density_kg_m3: f64,
    change: Option<crate::flight::Change>,
    effective_m: Option<f64>,
    why: Option<String>,
}

fn answer(args: &CarryArgs, known: &Known) -> Result<Answer, (i32, String)> {
    let command = |m: String| (WRONG_COMMAND, m);
    let asked_m = args.carry.metres("--carry", known.unit).map_err(command)?;
    within("--carry", &args.carry, asked_m, (1.0, 400.0), "m").map_err(command)?;
    let (driver_m, driver_from) = match (&args.driver, known.driver_carry_m) {
        (Some(typed), _) => {
            let m = typed.metres("--driver", known.unit).map_err(command)?;
            (within("--driver", typed, m, (1.0, 400.0), "m").map_err(command)?, "as given".to_owned())
        }
        (None, Some(m)) => (m, known.player.clone().unwrap_or_else(|| "the player's".to_owned())),
        (None, None) => (ASSUMED_DRIVER_M, "assumed from index 18 on the men's card".to_owned()),
    };
    let weather = weather(args).map_err(command)?;
    let air = weather.air().map_err(|e| command(e.to_string()))?;
    let rise_m = match &args.rise {
        Some(typed) => {
            let m = typed.metres("--rise", known.unit).map_err(command)?;
            within("--rise", typed, m, (-150.0, 150.0), "m").map_err(command)?
        }
        None => 0.0,
    };
    let unit = args.carry.unit(known.unit);
    let hint = if args.driver.is_none() { "; give your own driver with --driver" } else { "" };
    let family = Family::of_driver(driver_m).map_err(|e| {
        let (low, high) = (unit.show(e.low_m, 0), unit.show(e.high_m, 0));
        (
            WRONG_DATA,
            format!("a driver carry of {} is outside the model's range, {low} to {high}", unit.show(driver_m, 0)),
        )
    })?;
    let club = family.club(asked_m).map_err(|e| {
        (
            WRONG_DATA,
            format!(
                "a carry of {} is outside the full swings of a player whose driver carries {} ({driver_from}): {} to {}{hint}",
                args.carry, unit.show(driver_m, 0), unit.show(e.low_m, 0), unit.show(e.high_m, 0)
            ),
        )
    })?;
    let mut why = Vec::new();
    let change = club.change(&air, rise_m).map_err(|e| why.push(e.to_string())).ok();
    let effective_m = family.effective_m(asked_m, &air, rise_m).map_err(|e| why.push(e.to_string())).ok();
    why.dedup();
    Ok(Answer {
        unit,
        asked_m,
        driver_m,
        driver_from,
        density_kg_m3: air.density_kg_m3,
        change,
        effective_m,
        why: (!why.is_empty()).then(|| why.join("; ")),
    })
}

fn weather(args: &CarryArgs) -> Result<Weather, String> {
    let mut w = Weather::STANDARD;
    if let Some(t) = &args.temperature {
        w.temperature_c = within("--temperature", t, t.value, Weather::TEMPERATURE_C, "°C")?;
    }
    if let Some(h) = &args.humidity {
        w.humidity = within("--humidity", h, h.value, (0.0, 100.0), "per cent")? / 100.0;
    }
    if let Some(z) = &args.height {
        w.height_m = within("--height", z, z.metres_bare(), Weather::HEIGHT_M, "m")?;
    }
    if let Some(p) = &args.pressure {
        w.sea_level_pa = within("--pressure", p, p.value, Weather::SEA_LEVEL_HPA, "hPa, at sea level")? * 100.0;
    } else {
        w.sea_level_pa = ISA_PRESSURE_PA;
    }
    if let Some(wind) = &args.wind {
        let (low, high) = Weather::WIND_M_S;
        within("--wind", wind, wind.value.speed_m_s, (low, high), "m/s, about 67 mph")?;
        w.wind = Wind::from(wind.value.speed_m_s, wind.value.from_deg);
    }
    Ok(w)
}

impl Answer {
    fn json(&self) -> String {
        let figure = |v: Option<f64>| v.map_or(Value::Null, json_figure);
        let landing = self.change.map(|c| c.landing);
        let mut o = Map::new();
        o.insert("schema".into(), json!("marram/carry/1"));
        o.insert("carry_m".into(), figure(landing.map(|l| l.carry_m)));
        o.insert("side_m".into(), figure(landing.map(|l| l.side_m)));
        o.insert("descent_deg".into(), figure(landing.map(|l| l.descent_deg)));
        o.insert("effective_m".into(), figure(self.effective_m));
        o.insert("band_pct".into(), json_figure(BAND_PCT));
        o.insert("change_m".into(), figure(self.change.map(|c| c.by_m)));
        o.insert("driver_m".into(), json_figure(self.driver_m));
        o.insert("driver_from".into(), json!(self.driver_from));
        o.insert("density_kg_m3".into(), json_figure(self.density_kg_m3));
        if let Some(why) = &self.why {
            o.insert("why".into(), json!(why));
        }
        Value::Object(o).to_string()
    }

    fn plain(&self) -> String {
        let show = |m: f64| self.unit.show(m, 0);
        let mut lines = Vec::new();
        if let Some(c) = &self.change {
            let (low, high) = c.carry_band_m();
            let l = &c.landing;
            let side = match show(l.side_m.abs()) {
                s if s.starts_with("0 ") => "straight".to_owned(),
                s => format!("{s} to the {}", if l.side_m > 0.0 { "right" } else { "left" }),
            };
            let carries = if c.by_m.abs() < 0.5 {
                format!("A carry of {} stays what it is", show(self.asked_m))
            } else {
                format!(
                    "A carry of {} becomes {} here, between {} and {}",
                    show(self.asked_m),
                    show(l.carry_m),
                    show(low),
                    show(high)
                )
            };
            lines.push(format!("{carries}; {side}, coming down at {:.0} degrees.", l.descent_deg));
        }
        if let Some(m) = self.effective_m {
            lines.push(format!("To carry {} here, choose your {} shot.", show(self.asked_m), show(m)));
        }
        if let Some(why) = &self.why {
            lines.push(format!("No answer: {why}."));
        }
        lines.push(format!(
            "Changes are good to about {BAND_PCT:.0} per cent of the change. Driver {} ({}).",
            show(self.driver_m),
            self.driver_from
        ));
        lines.join("\n")
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
        args: CarryArgs,
    }

    fn call(words: &str) -> (i32, String, String) {
        match Cli::try_parse_from(std::iter::once("carry").chain(words.split_whitespace())) {
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
        assert!(out.starts_with("{\"schema\":\"marram/carry/1\""));
        serde_json::from_str(&out).unwrap()
    }

    #[test]
    fn standard_still_air_changes_nothing() {
        let v = figures("--carry 147m --driver 210m");
        assert!((v["carry_m"].as_f64().unwrap() - 147.0).abs() < 1e-3);
        assert!((v["effective_m"].as_f64().unwrap() - 147.0).abs() < 1e-3);
        assert_eq!(v["side_m"], 0.0);
        assert_eq!(v["band_pct"], 30.0);
    }

    #[test]
    fn from_the_right_goes_left_and_in_the_face_goes_short() {
        let right = figures("--carry 147m --driver 210m --wind 5m/s@90");
        assert!(right["side_m"].as_f64().unwrap() < -10.0);
        let face = figures("--carry 147m --driver 210m --wind 5m/s@0");
        assert!(face["carry_m"].as_f64().unwrap() < 135.0);
        assert!(face["effective_m"].as_f64().unwrap() > 155.0);
        let down = figures("--carry 147m --driver 210m --rise -8m");
        assert!(down["carry_m"].as_f64().unwrap() > 150.0);
    }

    #[test]
    fn what_has_no_answer_says_why() {
        let v = figures("--carry 205m --driver 210m --wind 10m/s@0");
        assert!(v["effective_m"].is_null() && v["carry_m"].is_number());
        assert!(v["why"].as_str().unwrap().contains("no club reaches"));
        let v = figures("--carry 100m --driver 210m --rise 60m");
        assert!(v["carry_m"].is_null() && v["side_m"].is_null() && v["effective_m"].is_null());
        assert!(v["why"].as_str().unwrap().contains("above"));
    }

    #[test]
    fn outside_the_family_is_refused_with_the_range() {
        for words in ["--carry 230m --driver 210m", "--carry 20m --driver 210m", "--carry 100m --driver 60m"] {
            let (code, out, err) = call(words);
            assert_eq!((code, out.as_str()), (1, ""), "{words}");
            assert!(err.contains(" to "), "{err}");
        }
        assert!(call("--carry 200y").2.contains("--driver"));
    }

    #[test]
    fn values_out_of_bounds_are_a_wrong_command() {
        for words in [
            "--carry 147",
            "--carry 147m --wind 200m/s@0",
            "--carry 147m --wind 200@0",
            "--carry 147m --temperature -80",
            "--carry 147m --humidity 130",
            "--carry 147m --height 9000m",
            "--carry 147m --pressure 400",
            "--carry 147m --rise 900m",
            "--carry 147m --rise 5",
            "--carry 9000m",
            "--carry -5m",
            "",
        ] {
            let (code, out, err) = call(words);
            assert_eq!((code, out.as_str()), (2, ""), "{words}: {err}");
            let value = words.split_whitespace().last().unwrap_or("--carry");
            assert!(err.contains(value), "{words}: {err}");
        }
    }

    #[test]
    fn plain_text_in_the_unit_typed() {
        let (code, out, _) = call("--carry 160y --driver 230y --wind 12mph@0");
        assert_eq!(code, 0);
        assert!(out.contains("A carry of 160 y becomes") && out.contains("30 per cent"), "{out}");
    }
}
