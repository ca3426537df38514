//! The events of `competition.yaml`: format, allowance, divisions, ties, merit tables.

use super::super::codes::{
    BAD_TERMS, DIVISION_TWICE, DIVISIONS_OVERLAP, EVENT_TWICE, HOLES_OUTSIDE, NO_SUCH_ROUND, NOT_A_MAXIMUM,
    NOT_AN_ALLOWANCE, NOT_AN_INDEX_RANGE, TIES_GO_ON, UNKNOWN_EVENT, UNKNOWN_PLAY, UNKNOWN_TIE_STEP,
};
use super::super::setup::{Division, Draw, Event, Merit, PartStrokes, RoundSetup, TieStep, TieStrokes};
use super::setup::{holes, yes_no};
use crate::course::Card;
use crate::course::decode::{Bounds, Fields, Reader, quoted};
use crate::handicap::{Allowance, Percent, Play, Scoring, Sides, recommended};
use crate::notebook::{Kind, Node, did_you_mean};
use crate::scoring::{self, Count, MaximumScore, Terms};
use crate::units::tenths::{HandicapIndex, Tenths};

const EVENT_KEYS: &[&str] = &[
    "name",
    "play",
    "count",
    "allowance",
    "divisions",
    "ties",
    "tie_strokes",
    "holes",
    "strokes",
    "sides",
    "maximum",
    "target_over_par",
    "rounds",
    "eclectic",
    "merit",
    "par_difference",
];
const DIVISION_KEYS: &[&str] = &["name", "index", "category", "ratings"];
const MERIT_KEYS: &[&str] = &["of", "points", "best"];
const ROUND: Bounds = Bounds::new("a round", 1.0, 50.0);
const TARGET: Bounds = Bounds::new("a target against par", -2.0, 4.0);
const POINTS: Bounds = Bounds::new("points for a place", 0.0, 100_000.0);
const BEST: Bounds = Bounds::new("how many results count", 1.0, 50.0);
const TIE_ADVICE: &str =
    "there are last 9, last 6, last 3, last hole, last round, hole by hole, lower handicap, play-off, lot, share";

/// Reads all events; names that are used by merit tables are checked at the end.
pub(super) fn events(r: &mut Reader, items: &[Node], rounds: &[RoundSetup]) -> Vec<Event> {
    let mut events: Vec<Event> = Vec::new();
    for item in items {
        let Some(event) = event(r, item, rounds) else { continue };
        if events.iter().any(|other| other.name.eq_ignore_ascii_case(&event.name)) {
            let message = format!("there are two events named {}", quoted(&event.name));
            r.error(EVENT_TWICE, event.span, message, "give each its own name");
            continue;
        }
        if let Some(merit) = &event.merit {
            for name in merit.of.iter().filter(|name| !events.iter().any(|e| e.name == **name && e.merit.is_none())) {
                let known: Vec<&str> = events.iter().map(|e| e.name.as_str()).collect();
                let message = format!("no event named {} stands above {}", quoted(name), quoted(&event.name));
                let advice = if known.is_empty() {
                    "an event over several rounds comes after the events that it counts".to_owned()
                } else {
                    did_you_mean(name, &known)
                };
                r.error(UNKNOWN_EVENT, event.span, message, advice);
            }
        }
        events.push(event);
    }
    events
}

const DRAW_KEYS: &[&str] = &["name", "play", "allowance", "sides", "order", "winners", "par_difference"];

/// A match-play draw.
pub(super) fn draw(r: &mut Reader, node: &Node, rounds: &[RoundSetup]) -> Option<Draw> {
    let fields = r.fields(node, "a draw", DRAW_KEYS)?;
    let name = fields.need(r, "name", "name: knock-out", Reader::text);
    let play = fields.need(r, "play", "play: match", play);
    let allowance = play.and_then(|play| fields.read(r, "allowance", |r, n, k| allowance(r, n, k, play)));
    let sides = fields.read(r, "sides", Reader::text);
    let par_difference = fields.read(r, "par_difference", yes_no).unwrap_or(true);
    let texts = |texts: Vec<(String, crate::notebook::Span)>| texts.into_iter().map(|(text, _)| text).collect();
    let order = fields.need(r, "order", "order: [ M001, M002, M003, bye ]", |r, n, k| r.texts(n, k)).map(texts);
    let winners = fields.read(r, "winners", |r, n, k| {
        let rounds = r.items(n, k);
        Some(rounds.iter().filter_map(|round| r.texts(round, k)).map(texts).collect())
    });
    let (name, play, order) = (name?, play?, order?);
    if play.scoring != Scoring::Match {
        let message = format!("{play} is no match");
        r.error(BAD_TERMS, fields.place("play"), message, "write match, four-ball match, foursomes match …");
        return None;
    }
    let event = Event {
        name,
        play,
        count: Count::Net,
        allowance_given: allowance.is_some(),
        allowance: allowance.unwrap_or(recommended(play).allowance),
        divisions: Vec::new(),
        ties: vec![TieStep::Share],
        tie_strokes: TieStrokes::Allotted,
        holes: rounds.first().map(|round| round.holes.clone()),
        strokes: PartStrokes::AsOnTheEighteen,
        sides,
        maximum: None,
        target_over_par: 0,
        rounds: vec![0],
        eclectic: false,
        merit: None,
        par_difference,
        span: fields.span,
    };
    Some(Draw { event, order, winners: winners.unwrap_or_default() })
}

fn event(r: &mut Reader, node: &Node, rounds: &[RoundSetup]) -> Option<Event> {
    let before = r.errors();
    let fields = r.fields(node, "an event", EVENT_KEYS)?;
    let name = fields.need(r, "name", "name: medal", Reader::text);
    let merit = fields.read(r, "merit", merit);
    let play = match (fields.get("play"), &merit) {
        (None, Some(_)) => Some(Play::individual(Scoring::Stroke)),
        _ => fields.need(r, "play", "play: stroke", play),
    };
    let count = fields.read(r, "count", |r, n, k| r.word(n, k, &[("net", Count::Net), ("gross", Count::Gross)]));
    let allowance = play.and_then(|play| fields.read(r, "allowance", |r, n, k| allowance(r, n, k, play)));
    let divisions = fields.read(r, "divisions", divisions).unwrap_or_default();
    let ties = fields.read(r, "ties", ties).unwrap_or_else(|| vec![TieStep::Share]);
    let words = [("fractions", TieStrokes::Fractions), ("allotted", TieStrokes::Allotted)];
    let tie_strokes = fields.read(r, "tie_strokes", |r, n, k| r.word(n, k, &words));
    let words = [("as on the eighteen", PartStrokes::AsOnTheEighteen), ("as a nine", PartStrokes::AsANine)];
    let strokes = fields.read(r, "strokes", |r, n, k| r.word(n, k, &words)).unwrap_or_default();
    let part = fields.read(r, "holes", holes);
    let sides = fields.read(r, "sides", Reader::text);
    let maximum = fields.read(r, "maximum", maximum);
    let target_over_par = fields.read(r, "target_over_par", |r, n, k| r.signed_whole(n, k, TARGET)).unwrap_or(0);
    let counted = fields.read(r, "rounds", |r, n, k| r.one_or_more(n, k, |r, n, k| r.small(n, k, ROUND)));
    let eclectic = fields.read(r, "eclectic", yes_no).unwrap_or(false);
    let par_difference = fields.read(r, "par_difference", yes_no).unwrap_or(true);
    let (name, play) = (name?, play?);
    let rounds_of_event = which_rounds(r, &fields, counted, rounds.len());
    let usual = recommended(play).allowance;
    let event = Event {
        name,
        play,
        count: count.unwrap_or_default(),
        allowance_given: allowance.is_some(),
        allowance: allowance.unwrap_or(usual),
        divisions,
        ties,
        tie_strokes: tie_strokes.unwrap_or_else(|| usual_tie_strokes(play)),
        holes: part,
        strokes,
        sides,
        maximum,
        target_over_par,
        rounds: rounds_of_event,
        eclectic,
        merit,
        par_difference,
        span: fields.span,
    };
    check(r, &fields, &event, rounds);
    (r.errors() == before).then_some(event)
}

// Fractions belong to net play with one handicap for the card; where strokes are taken hole by hole those count.
fn usual_tie_strokes(play: Play) -> TieStrokes {
    let one_handicap = play.sides == Sides::Individual || play.one_ball();
    match play.scoring {
        Scoring::Stroke | Scoring::Maximum if one_handicap => TieStrokes::Fractions,
        _ => TieStrokes::Allotted,
    }
}

fn which_rounds(r: &mut Reader, fields: &Fields<'_>, counted: Option<Vec<u8>>, there: usize) -> Vec<usize> {
    let Some(counted) = counted else { return (0..there).collect() };
    let mut rounds = Vec::new();
    for number in counted.into_iter().map(usize::from) {
        if number > there && there > 0 {
            let message = format!("round {number} counts here, and the competition has {there}");
            r.error(NO_SUCH_ROUND, fields.place("rounds"), message, "name rounds from 1, in the order of `rounds`");
        } else {
            rounds.push(number - 1);
        }
    }
    rounds
}

fn check(r: &mut Reader, fields: &Fields<'_>, event: &Event, rounds: &[RoundSetup]) {
    let bad = |r: &mut Reader, key: &str, message: String, advice: &str| {
        r.error(BAD_TERMS, fields.place(key), message, advice.to_owned());
    };
    if event.play.scoring == Scoring::Match {
        let message = format!("{} is decided between two sides, not by the order of a field", event.play);
        bad(r, "play", message, "play stroke, stableford, par-bogey or maximum here");
        return;
    }
    let mut holes = usize::MAX;
    for round in event.rounds.iter().filter_map(|at| rounds.get(*at)) {
        let own = event.holes.as_ref().unwrap_or(&round.holes);
        holes = holes.min(own.len());
        if let Some(outside) = own.iter().find(|hole| !round.holes.contains(hole)) {
            let message = format!("hole {outside} is not played in the round of {}", round.date);
            r.error(HOLES_OUTSIDE, fields.place("holes"), message, "name holes of the round");
        }
    }
    let terms = Terms { maximum: event.maximum.clone(), ..Terms::net(holes.clamp(1, 36)) };
    // A maximum that is given and cannot be read has its own problem already.
    let unread = event.maximum.is_none() && fields.get("maximum").is_some();
    if let (Err(error), false) = (scoring::format(event.play, terms), unread) {
        bad(r, "play", error.to_string(), "add it to the event, as `maximum: net double bogey`");
    }
    if event.maximum.is_some() && event.play.scoring != Scoring::Maximum {
        bad(r, "maximum", format!("{} has no maximum", event.play), "write `play: maximum`, or take the key out");
    }
    if event.play.sides != Sides::Individual && event.divisions.iter().any(|d| d.index.is_some()) {
        bad(r, "divisions", "sides have no index".to_owned(), "divide sides by category or ratings");
    }
    let scored = event.merit.is_none();
    if !scored && event.ties.iter().any(|step| !matches!(step, TieStep::Lot | TieStep::Share | TieStep::PlayOff)) {
        bad(r, "ties", "points for places have no card to match".to_owned(), "end ties by play-off, lot or share");
    }
    if event.eclectic && event.play.sides != Sides::Individual {
        bad(r, "eclectic", "the best of each hole is one player's".to_owned(), "play it as individuals");
    }
}

fn play(r: &mut Reader, node: &Node, key: &str) -> Option<Play> {
    let text = r.raw(node, key)?;
    match Play::parse(text) {
        Ok(play) => Some(play),
        Err(_) => {
            let message = format!("{} is no format", quoted(text));
            let advice = "there are stroke, stableford, par-bogey, maximum, alone or behind four-ball, foursomes, greensomes, chapman, scramble 2|3|4, best 1|2|3|4 of 4, total of 2";
            r.error(UNKNOWN_PLAY, node.span, message, advice);
            None
        }
    }
}

fn allowance(r: &mut Reader, node: &Node, key: &str, play: Play) -> Option<Allowance> {
    let text = r.raw(node, key)?;
    let one = Percent::parse(text).ok();
    let found = match recommended(play).allowance {
        Allowance::Each(_) => one.map(Allowance::Each),
        Allowance::Combined(_) => one.map(Allowance::Combined),
        Allowance::LowToHigh(usual) => {
            let shares: Option<Vec<Percent>> = text.split('-').map(|share| Percent::parse(share).ok()).collect();
            shares.filter(|shares| shares.len() == usual.len()).map(Allowance::LowToHigh)
        }
    };
    if found.is_none() {
        let message = format!("`{key}` cannot be {}", quoted(text));
        let advice = match recommended(play).allowance {
            Allowance::LowToHigh(usual) => {
                let usual: Vec<String> = usual.iter().map(|share| share.value().to_string()).collect();
                format!("write shares from low to high, as {}", usual.join("-"))
            }
            _ => "write per cent of the Course Handicap, 0 to 100, as 95".to_owned(),
        };
        r.error(NOT_AN_ALLOWANCE, node.span, message, advice);
    }
    found
}

fn maximum(r: &mut Reader, node: &Node, key: &str) -> Option<MaximumScore> {
    let text = match &node.kind {
        Kind::List(items) => {
            let limits: Option<Vec<&str>> = items.iter().map(|item| r.raw(item, key)).collect();
            limits?.join(",")
        }
        _ => r.raw(node, key)?.to_owned(),
    };
    match MaximumScore::parse(&text) {
        Ok(maximum) => Some(maximum),
        Err(_) => {
            let message = format!("`{key}` cannot be {}", quoted(&text));
            let advice =
                "write strokes as 8, `par + 5`, `twice par`, `net double bogey`, or a list with a limit for each hole";
            r.error(NOT_A_MAXIMUM, node.span, message, advice);
            None
        }
    }
}

fn ties(r: &mut Reader, node: &Node, key: &str) -> Option<Vec<TieStep>> {
    let mut steps: Vec<TieStep> = Vec::new();
    let words = r.texts(node, key)?;
    for (text, span) in words {
        let Some(step) = TieStep::parse(&text) else {
            r.error(UNKNOWN_TIE_STEP, span, format!("{} settles no tie", quoted(&text)), TIE_ADVICE);
            continue;
        };
        if let Some(end) = steps.last().filter(|last| matches!(last, TieStep::Share | TieStep::Lot)) {
            let message = format!("`{step}` comes behind `{end}`, which settles every tie");
            r.error(TIES_GO_ON, span, message, format!("let `{end}` be the last"));
            continue;
        }
        steps.push(step);
    }
    Some(steps)
}

fn merit(r: &mut Reader, node: &Node, _: &str) -> Option<Merit> {
    let fields = r.fields(node, "`merit`", MERIT_KEYS)?;
    let of = fields.need(r, "of", "of: [ round one, round two ]", |r, n, k| r.texts(n, k));
    let points = fields
        .need(r, "points", "points: [ 25, 18, 15 ]", |r, n, k| r.one_or_more(n, k, |r, n, k| r.whole(n, k, POINTS)));
    let best = fields.read(r, "best", |r, n, k| r.small(n, k, BEST)).map(usize::from);
    Some(Merit { of: of?.into_iter().map(|(name, _)| name).collect(), points: points?, best })
}

fn divisions(r: &mut Reader, node: &Node, key: &str) -> Option<Vec<Division>> {
    let mut divisions: Vec<Division> = Vec::new();
    for item in r.items(node, key) {
        let Some(division) = division(r, item) else { continue };
        for other in &divisions {
            if other.name.eq_ignore_ascii_case(&division.name) {
                let message = format!("there are two divisions named {}", quoted(&division.name));
                r.error(DIVISION_TWICE, division.span, message, "give each its own name");
            } else if overlap(other, &division) {
                let message = format!("{} and {} share indexes", quoted(&other.name), quoted(&division.name));
                r.error(
                    DIVISIONS_OVERLAP,
                    division.span,
                    message,
                    "let one begin a tenth above the end of the other, as `9.5..` behind `..9.4`",
                );
            }
        }
        divisions.push(division);
    }
    Some(divisions)
}

fn overlap(a: &Division, b: &Division) -> bool {
    let (Some(first), Some(second)) = (a.index, b.index) else { return false };
    let apart =
        |a: &Option<String>, b: &Option<String>| matches!((a, b), (Some(a), Some(b)) if !a.eq_ignore_ascii_case(b));
    let cards = matches!((a.ratings, b.ratings), (Some(a), Some(b)) if a != b);
    let below = |to: Option<Tenths>, from: Option<Tenths>| matches!((to, from), (Some(to), Some(from)) if to < from);
    !apart(&a.category, &b.category) && !cards && !below(first.1, second.0) && !below(second.1, first.0)
}

fn division(r: &mut Reader, node: &Node) -> Option<Division> {
    let fields = r.fields(node, "a division", DIVISION_KEYS)?;
    let name = fields.need(r, "name", "name: A", Reader::text);
    let index = match fields.get("index") {
        Some(node) => Some(index_range(r, node)?),
        None => None,
    };
    let category = fields.read(r, "category", Reader::text);
    let ratings = fields.read(r, "ratings", |r, n, k| r.word(n, k, &[("men", Card::Men), ("women", Card::Women)]));
    Some(Division { name: name?, index, category, ratings, span: fields.span })
}

fn index_range(r: &mut Reader, node: &Node) -> Option<(Option<Tenths>, Option<Tenths>)> {
    let text = r.raw(node, "index")?;
    let end = |text: &str| {
        let text = text.trim();
        if text.is_empty() { Some(None) } else { HandicapIndex::parse(text).ok().map(|index| Some(index.value())) }
    };
    let range = text.split_once("..").and_then(|(from, to)| end(from).zip(end(to)));
    let fine = range.filter(|(from, to)| match (from, to) {
        (Some(from), Some(to)) => from <= to,
        (None, None) => false,
        _ => true,
    });
    if fine.is_none() {
        let message = format!("`index` needs a range of indexes, not {}", quoted(text));
        r.error(
            NOT_AN_INDEX_RANGE,
            node.span,
            message,
            "write `..9.4`, `9.5..18.4` or `18.5..`; better than scratch is `+2.0..`",
        );
    }
    fine
}
