//! The draft of a notebook: commented YAML that a person goes on from. What the map does not say is written as `unknown`.

use super::hole::{FoundTee, SurveyedHole};
use super::kind::{Colour, Kind};
use super::one_course::Survey;
use super::played::{bearing, bends};
use super::said::What;
use super::track::Track;
use crate::course::ByCard;
use crate::ground::{HoleLine, Point};
use crate::units::{Across, Along, Length, LengthUnit};
use std::fmt::Write;

/// What a draft is written with.
#[derive(Clone, Copy, Debug)]
pub struct Draft<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// The unit of the notebook.
    pub unit: LengthUnit,
    /// The name of its ground file.
    pub ground: &'a str,
    /// The date that it carries.
    pub today: &'a str,
}

/// A hole as the draft writes it: its line by numbers, and the plane in which it is drawn.
#[derive(Clone, Debug)]
pub struct DraftHole {
    /// The line of the notebook.
    pub line: HoleLine,
    /// Its bends.
    pub bends: Vec<crate::ground::Bend>,
    /// Its length, yards.
    pub length: f64,
    /// Compass direction of its first leg.
    pub bearing: f64,
    start: Point,
}

impl DraftHole {
    /// The numbers of a line of play.
    pub fn of(played: &Track) -> Self {
        let (bends, length) = bends(played);
        let line = HoleLine::new(&bends, Along(length));
        Self { line, bends, length, bearing: bearing(played), start: played.start() }
    }

    /// A point of the course's plane in the hole's own.
    pub fn point(&self, point: Point) -> Point {
        let away = point - self.start;
        let ahead = Point::towards(self.bearing);
        Point::new(away.dot(ahead.to_the_right()), away.dot(ahead))
    }

    /// Where a point of the course's plane lies along the line and across it.
    pub fn place(&self, point: Point) -> (Along, Across) {
        self.line.locate(self.point(point))
    }
}

/// A tee of a hole in the draft.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftTee {
    /// The set.
    pub name: String,
    /// Where it stands along the line, yards.
    pub at: f64,
    /// Beside it.
    pub across: f64,
    /// Whether the line starts there.
    pub starts_line: bool,
}

/// The tees of a hole, each set once, the one at the start of the line first.
pub fn tees_of(hole: &SurveyedHole, draft: &DraftHole) -> Vec<DraftTee> {
    let mut found: Vec<DraftTee> = Vec::new();
    let mut nameless = 0;
    let mut own = |tee: &FoundTee| {
        tee.name.clone().unwrap_or_else(|| {
            nameless += 1;
            format!("Tee {nameless}")
        })
    };
    for tee in &hole.tees {
        let name = own(tee);
        // Of two boxes of one set the back one is the set's; the other stands in the ground file.
        if found.iter().any(|t| t.name == name) {
            continue;
        }
        let (at, across) = draft.place(tee.point);
        let starts_line = tee.point.distance(hole.played.start()) < 1e-6;
        let (at, across) = if starts_line { (0.0, 0.0) } else { (at.0, across.0) };
        found.push(DraftTee { name, at, across, starts_line });
    }
    if !found.iter().any(|t| t.starts_line) {
        let name = if found.is_empty() { "Tee 1" } else { "Start of the line" };
        found.insert(0, DraftTee { name: name.to_owned(), at: 0.0, across: 0.0, starts_line: true });
    }
    found
}

impl Draft<'_> {
    /// Writes the notebook.
    pub fn write(&self) -> String {
        let mut out = String::new();
        self.head(&mut out);
        let holes: Vec<(&SurveyedHole, DraftHole)> =
            self.survey.holes.iter().map(|h| (h, DraftHole::of(&h.played))).collect();
        let all: Vec<Vec<DraftTee>> = holes.iter().map(|(h, d)| tees_of(h, d)).collect();
        let sets = sets(&all, &holes);
        out.push_str("\n# The tee sets, longest first. Copy the ratings from the club's rating table;\n# without them marram works out no strokes.\ntees:\n");
        for set in &sets {
            let _ = writeln!(
                out,
                "  - name: {}\n    # men:   {{ rating: , slope: }}\n    # women: {{ rating: , slope: }}",
                quoted(set)
            );
        }
        out.push_str("\nholes:\n");
        let mut next = 1;
        let mut written = 0;
        for ((hole, draft), tees) in holes.iter().zip(&all) {
            let number = hole.number.in_draft();
            (next..number).for_each(|n| self.gap(&mut out, n));
            next = number.saturating_add(1);
            written += 1;
            self.hole(&mut out, hole, draft, tees, &sets);
        }
        let last = self.survey.said_holes.unwrap_or(0).max(u8::from(written == 0));
        (next..=last).for_each(|n| self.gap(&mut out, n));
        out
    }

    fn head(&self, out: &mut String) {
        let survey = self.survey;
        let _ = writeln!(out, "format: course-notebook/1\n");
        let _ = writeln!(
            out,
            "# A draft made from a map on {}. Go through it hole by hole: what the map does not say is",
            self.today
        );
        let _ = writeln!(
            out,
            "# `unknown` here, and `marram check` names every such gap. Lengths are from the map, not from"
        );
        let _ =
            writeln!(out, "# the card: where the card says otherwise, the card holds. Shapes are in {}.", self.ground);
        if survey.holes.iter().any(|h| !h.number.is_known()) {
            let _ = writeln!(
                out,
                "#\n# The map does not number every hole. Where it does not, the order of the shortest walk from"
            );
            let _ = writeln!(
                out,
                "# green to tee stands here: change the numbers after `hole:` as they are on the course, nothing"
            );
            let _ = writeln!(out, "# else. The ground finds its hole by the `id`.");
        }
        if !survey.credits.is_empty() {
            let _ = writeln!(
                out,
                "#\n# Keep the three lines under `course` about whose map it is: they are shown and printed with it."
            );
        }
        let _ = writeln!(
            out,
            "#\n# Not official: only an authorised team rates a course. The Rules, the Local Rules and the"
        );
        let _ = writeln!(
            out,
            "# Committee decide. Never play until the group ahead is out of range; stop for lightning.\n"
        );
        let _ = writeln!(out, "course:\n  name: {}\n  units: {}", quoted(&survey.name), self.unit.word());
        let _ = writeln!(out, "  ground: {}", quoted(self.ground));
        if let Some(credit) = survey.credits.first() {
            let _ = writeln!(out, "  attribution: {}", quoted(&credit.attribution));
            if let Some(licence) = &credit.licence {
                let _ = writeln!(out, "  licence: {}", quoted(licence));
            }
            if let Some(source) = &credit.source {
                let _ = writeln!(out, "  source: {}", quoted(source));
            }
        }
        let _ = writeln!(
            out,
            "  # green_speed: 9          # Stimpmeter feet on a usual day\n  # firmness: medium        # soft, medium, firm or baked"
        );
    }

    /// A hole that the map does not show.
    fn gap(&self, out: &mut String, number: u8) {
        let _ = writeln!(
            out,
            "  # not on the map\n  - hole: {number}\n    par: unknown\n    stroke_index: unknown\n    tees: unknown\n"
        );
    }

    fn hole(&self, out: &mut String, hole: &SurveyedHole, draft: &DraftHole, tees: &[DraftTee], sets: &[String]) {
        let show = |yards: f64| Length::yards(yards).show(self.unit);
        let note = if hole.number.is_known() { "" } else { "                 # proposed: the map does not number it" };
        let _ = writeln!(out, "  - hole: {}{note}", hole.number.in_draft());
        let _ = writeln!(out, "    id: {}", quoted(&hole.id));
        if let Some(name) = &hole.name {
            let _ = writeln!(out, "    name: {}", quoted(name));
        }
        let _ = writeln!(out, "    par: {}", by_card(&hole.par));
        let _ = writeln!(out, "    stroke_index: {}", by_card(&hole.stroke_index));
        if let Some(stated) = hole.stated {
            let _ = writeln!(out, "    # the map states a length of {}", show(stated));
        }
        let first = tees.iter().find(|t| t.starts_line).map_or("", |t| t.name.as_str());
        let _ = writeln!(out, "    line_from: {}", quoted(first));
        let _ = writeln!(out, "    bearing: {:.0}", libm::fmod(draft.bearing.round(), 360.0));
        let _ = writeln!(out, "    tees:");
        let middle = self.middle(hole, draft);
        for tee in sets.iter().filter_map(|set| tees.iter().find(|t| t.name == *set)) {
            let length = show(middle - tee.at);
            if tee.starts_line {
                let _ = writeln!(out, "      {}: {{ length: {length} }}", quoted(&tee.name));
            } else {
                let across = Across(tee.across).show(self.unit);
                let _ = writeln!(
                    out,
                    "      {}: {{ length: {length}, starts_at: {{ at: {}, across: {across} }} }}",
                    quoted(&tee.name),
                    show(tee.at)
                );
            }
        }
        if !draft.bends.is_empty() {
            let bends: Vec<String> = draft
                .bends
                .iter()
                .map(|b| format!("{{ at: {}, turn: {} }}", self.tenth(b.at.0), turn(b.turn_deg)))
                .collect();
            let _ = writeln!(out, "    bends: [ {} ]", bends.join(", "));
        }
        self.heights(out, hole, draft);
        let mut sketch = String::new();
        self.pieces(&mut sketch, hole, draft);
        self.green(&mut sketch, hole, draft);
        // With nothing in it but remarks the key would have no value.
        let empty = sketch.lines().all(|line| line.trim_start().starts_with('#'));
        let _ = writeln!(out, "    {}sketch:", if empty { "# " } else { "" });
        out.push_str(&sketch);
        self.said(out, hole, draft);
        out.push('\n');
    }

    fn heights(&self, out: &mut String, hole: &SurveyedHole, draft: &DraftHole) {
        let mut last = -1.0;
        let mut places = Vec::new();
        for (point, up_m) in &hole.profile.places {
            let at = (draft.place(*point).0.0 / self.unit.in_yards()).round().max(0.0);
            // Heights go forward along the line; a place that does not is beside it.
            if at > last {
                let up = Length::metres(*up_m).in_unit(self.unit).round() + 0.0;
                places.push(format!("{{ at: {at}, up: {up} }}"));
                last = at;
            }
        }
        if places.len() > 1 {
            let doubt = if hole.profile.from_walk { "   # from the walk: rough" } else { "" };
            let _ = writeln!(out, "    heights: [ {} ]{doubt}", places.join(", "));
        }
    }

    /// Aim points, notes and markers of a walk.
    fn said(&self, out: &mut String, hole: &SurveyedHole, draft: &DraftHole) {
        let show = |yards: f64| Length::yards(yards).show(self.unit);
        let of = |what: What| hole.said.iter().filter(move |s| s.what == what);
        for (nth, said) in of(What::Aim).enumerate() {
            if nth == 0 {
                out.push_str("    aims:\n");
            }
            let (at, across) = draft.place(said.point);
            let _ = writeln!(
                out,
                "      - from: tee\n        at: {}\n        across: {}",
                show(at.0),
                across.show(self.unit)
            );
            let words = if said.words.is_empty() { "Aim point of the walk." } else { &said.words };
            let _ = writeln!(out, "        text: {}", in_quotes(words));
        }
        for (nth, said) in of(What::Note).enumerate() {
            if nth == 0 {
                out.push_str("    notes:\n");
            }
            let at = draft.place(said.point).0.0;
            let place = if at > draft.length - 40.0 {
                "green"
            } else if at > draft.length / 4.0 {
                "approach"
            } else {
                "tee"
            };
            let _ = writeln!(out, "      - at: {place}\n        text: {}", in_quotes(&said.words));
        }
        for said in &hole.said {
            if let What::Marker(reads) = said.what {
                let (at, across) = draft.place(said.point);
                let _ = writeln!(
                    out,
                    "    # a marker that reads {reads} stands at {}, {}",
                    show(at.0),
                    across.show(self.unit)
                );
            }
        }
    }

    /// Where the middle of the green lies along the line as the draft writes it.
    fn middle(&self, hole: &SurveyedHole, draft: &DraftHole) -> f64 {
        match &hole.green {
            Some(green) => {
                let (depth, front) = self.green_numbers(green.depth(), draft);
                front + depth / 2.0
            }
            None => draft.length,
        }
    }

    /// Depth and front in yards, rounded as they are written.
    fn green_numbers(&self, depth: f64, draft: &DraftHole) -> (f64, f64) {
        let unit = self.unit.in_yards();
        let whole = |yards: f64| (yards / unit).round() * unit;
        let depth = whole(depth).max(unit);
        let front = ((draft.length - depth / 2.0) / unit * 10.0).round() / 10.0 * unit;
        (depth, front)
    }

    fn green(&self, out: &mut String, hole: &SurveyedHole, draft: &DraftHole) {
        let Some(green) = &hole.green else {
            let _ = writeln!(out, "      # The map has no outline of the green. Pace it and write it here:");
            let _ = writeln!(
                out,
                "      # green: {{ front: {}, depth: , width: }}",
                Length::yards(draft.length - 15.0).show(self.unit)
            );
            return;
        };
        let (depth, front) = self.green_numbers(green.depth(), draft);
        let show = |yards: f64| Length::yards(yards).show(self.unit);
        let _ = writeln!(
            out,
            "      green: {{ front: {}, depth: {}, width: {}, sure: map }}",
            self.tenth(front),
            show(depth),
            show(green.width.clamp(5.0, 100.0))
        );
    }

    /// The bunkers and penalty areas along the hole by id, so that a person can give them names and faces.
    fn pieces(&self, out: &mut String, hole: &SurveyedHole, draft: &DraftHole) {
        for (key, word) in [("bunkers", "bunker"), ("penalty", "penalty")] {
            let mut lines = Vec::new();
            for along in &hole.along {
                let Some(item) = self.survey.placed.get(along.index).filter(|p| p.kind.word() == word) else {
                    continue;
                };
                let Some(element) = self.survey.map.elements.get(item.element) else { continue };
                let colour = match item.kind {
                    Kind::Penalty(colour) => colour.map(Colour::word),
                    _ => None,
                };
                let colour = colour.map(|c| format!(", colour: {c}")).unwrap_or_default();
                let doubt = if word == "penalty" && colour.is_empty() { "; red or yellow?" } else { "" };
                let places = self.extent(item, draft);
                lines.push(format!("        - {{ id: {}{colour} }}   # {places}{doubt}\n", quoted(&element.id)));
            }
            if !lines.is_empty() {
                let hint = if word == "bunker" {
                    "give them a `name`, and a `face` (shallow, steep)"
                } else {
                    "give them a `name`"
                };
                let _ = writeln!(out, "      {key}:   # as the map has them; {hint}");
                out.push_str(&lines.concat());
            }
        }
    }

    /// `238 to 256, 13L..27L`.
    fn extent(&self, item: &super::placed::Placed, draft: &DraftHole) -> String {
        use super::placed::Lies;
        let points: Vec<Point> = match &item.lies {
            Lies::Point(point) => vec![*point],
            Lies::Line(line) => line.clone(),
            Lies::Area(shapes) => shapes.iter().flat_map(|s| s.outer.iter().copied()).collect(),
        };
        let places: Vec<(Along, Across)> = points.into_iter().map(|p| draft.place(p)).collect();
        let low = |pick: fn(&(Along, Across)) -> f64| places.iter().map(pick).fold(f64::INFINITY, f64::min);
        let high = |pick: fn(&(Along, Across)) -> f64| places.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
        let show = |yards: f64| Length::yards(yards).show(self.unit);
        let side = |yards: f64| Across(yards).show(self.unit);
        format!(
            "{} to {}, {}..{}",
            show(low(|p| p.0.0)),
            show(high(|p| p.0.0)),
            side(low(|p| p.1.0)),
            side(high(|p| p.1.0))
        )
    }

    fn tenth(&self, yards: f64) -> String {
        let figure = (yards / self.unit.in_yards() * 10.0).round() / 10.0;
        format!("{figure}")
    }
}

/// The tee sets of the course, longest first: by the share of the hole that each plays, on average.
fn sets(all: &[Vec<DraftTee>], holes: &[(&SurveyedHole, DraftHole)]) -> Vec<String> {
    let mut sums: Vec<(String, f64, f64)> = Vec::new();
    for (tees, (_, draft)) in all.iter().zip(holes) {
        for tee in tees {
            let share = (draft.length - tee.at) / draft.length.max(1.0);
            match sums.iter_mut().find(|(name, ..)| *name == tee.name) {
                Some((_, sum, count)) => {
                    *sum += share;
                    *count += 1.0;
                }
                None => sums.push((tee.name.clone(), share, 1.0)),
            }
        }
    }
    if sums.is_empty() {
        sums.push(("Tee 1".to_owned(), 1.0, 1.0));
    }
    let numbered = |name: &str| name.strip_prefix("Tee ").and_then(|n| n.parse::<u32>().ok());
    let mut order: Vec<(String, f64)> = sums.into_iter().map(|(name, sum, count)| (name, sum / count)).collect();
    order.sort_by_key(|(name, _)| numbered(name));
    // Sets that nobody named are counted from the back on each hole, and keep that order whatever their mean.
    let mut shortest = f64::INFINITY;
    for (_, share) in order.iter_mut().filter(|(name, _)| numbered(name).is_some()) {
        shortest = shortest.min(*share);
        *share = shortest;
    }
    order.sort_by(|a, b| b.1.total_cmp(&a.1).then(numbered(&a.0).cmp(&numbered(&b.0))));
    order.into_iter().map(|(name, _)| name).collect()
}

fn by_card(value: &ByCard<u8>) -> String {
    let one = |v: Option<u8>| v.map_or("unknown".to_owned(), |n| n.to_string());
    if value.men == value.women {
        one(value.men)
    } else {
        format!("{{ men: {}, women: {} }}", one(value.men), one(value.women))
    }
}

fn turn(degrees: f64) -> String {
    let figure = (degrees.abs() * 10.0).round() / 10.0;
    format!("{figure}{}", if degrees < 0.0 { "L" } else { "R" })
}

/// Words, which always stand in quotes.
pub fn in_quotes(words: &str) -> String {
    let quoted = quoted(words);
    if quoted.starts_with('"') { quoted } else { format!("\"{quoted}\"") }
}

/// A text as YAML reads it back: bare where that is safe, else in double quotes.
pub fn quoted(text: &str) -> String {
    let bare = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '/' | '-' | '.' | '_');
    let safe = text.chars().all(bare)
        && text.chars().next().is_some_and(char::is_alphabetic)
        && text.trim() == text
        && !text.contains(" -")
        && !text.is_empty();
    if safe {
        return text.to_owned();
    }
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_whitespace() => out.push(' '),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
