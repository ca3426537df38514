//! The fixed form of `marram total --json`.

use super::super::result::{EventResult, Line};
use super::super::words::points_text;
use super::super::{Competition, Totals, issue::Issue};
use super::terms;
use serde_json::{Value, json};

/// One object: competition, events with their orders, problems.
pub fn json(competition: &Competition, totals: &Totals<'_>) -> Value {
    json!({
        "schema": "marram/total/1",
        "competition": competition.setup.name,
        "course": competition.course.name,
        "dates": competition.setup.rounds.iter().map(|round| round.date.as_str()).collect::<Vec<_>>(),
        "final": totals.is_final(),
        "events": totals.events.iter().map(|result| event(competition, result)).collect::<Vec<_>>(),
        "awards": super::award_lines(competition, totals),
        "draws": totals.brackets.iter().map(draw).collect::<Vec<_>>(),
        "problems": totals.issues.iter().map(problem).collect::<Vec<_>>(),
    })
}

fn draw(bracket: &super::super::draw::Bracket) -> Value {
    let matches = |matches: &Vec<super::super::draw::Match>| -> Vec<Value> {
        matches.iter().map(|m| json!({ "sides": m.sides, "strokes": m.strokes, "winner": m.winner })).collect()
    };
    json!({
        "name": bracket.name,
        "terms": bracket.terms,
        "rounds": bracket.rounds.iter().map(matches).collect::<Vec<_>>(),
    })
}

fn event(competition: &Competition, result: &EventResult) -> Value {
    let set_up = competition.setup.events.get(result.event);
    json!({
        "name": result.name,
        "play": super::super::words::play_words(result.play),
        "count": result.count.name(),
        "division": result.division,
        "terms": set_up.map(|event| terms(competition, event)),
        "order": result.lines.iter().map(|line| order(line, competition.setup.publish_index)).collect::<Vec<_>>(),
    })
}

fn order(line: &Line, index: bool) -> Value {
    let mut object = json!({
        "id": line.id,
        "place": line.place,
        "tied": line.tied,
        "name": line.name,
        "gross": line.gross,
        "net": line.net,
        "points": match line.merit {
            Some(points) if points.is_whole() => json!(points.to_whole()),
            Some(points) => points_text(points).parse::<f64>().map_or(Value::Null, Value::from),
            None => json!(line.points),
        },
        "result": line.result,
        "playing_handicap": line.playing_handicap,
        "strokes_received": line.strokes_received,
        "decided_by": line.decided_by.map(|decided| decided.to_string()),
        "status": line.status.map(|status| status.code()),
        "unfinished": line.unfinished,
        "spans": line.spans.iter().map(|span| json!({ "span": span.span.to_string(), "figure": span.figure })).collect::<Vec<_>>(),
    });
    if let (Some(players), Some(object)) = (players(line, index), object.as_object_mut()) {
        object.insert("players".to_owned(), players);
    }
    object
}

fn players(line: &Line, index: bool) -> Option<Value> {
    let of_side = line.players.len() != 1;
    (of_side || index).then(|| {
        let players = line.players.iter().map(|player| {
            let mut object =
                json!({ "id": player.id, "name": player.name, "playing_handicap": player.playing_handicap });
            if let (true, Some(object)) = (index, object.as_object_mut()) {
                let value = player.index.map(|i| f64::from(i.value().tenths()) / 10.0);
                object.insert("index".to_owned(), json!(value));
                object.insert("index_text".to_owned(), json!(player.index.map(|i| i.to_string())));
            }
            object
        });
        players.collect()
    })
}

fn problem(issue: &Issue) -> Value {
    json!({
        "what": issue.what,
        "weight": issue.weight.word(),
        "id": issue.id,
        "name": issue.name,
        "event": issue.event,
        "hole": issue.hole,
        "message": issue.message,
        "advice": issue.advice,
    })
}
