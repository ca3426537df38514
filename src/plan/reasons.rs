//! Two or three sentences for a play, from computed numbers and the notebook's names only.

use super::model::HolePlan;
use super::question::Question;
use crate::units::Length;

/// A price below this is not worth a word, strokes.
const WORTH_SAYING: f64 = 0.05;

/// Strokes to the nearest 0.05, `under 0.05` below (product.md).
pub fn strokes(value: f64) -> String {
    let rounded = (value * 20.0).round() / 20.0;
    if rounded < WORTH_SAYING { "under 0.05".to_owned() } else { format!("{rounded:.2}") }
}

/// A chance in whole per cent.
pub fn percent(value: f64) -> String {
    format!("{:.0} %", 100.0 * value)
}

/// Writes the reasons of every play anew.
pub fn write(question: &Question, plan: &mut HolePlan) {
    let mut sentences = Vec::new();
    let named = |feature: usize| question.hole.ground.features.get(feature).map_or("that ground", |f| f.name.as_str());
    let dear: Vec<&super::Price> = plan.prices.iter().filter(|p| p.strokes >= WORTH_SAYING).take(2).collect();
    match dear.as_slice() {
        [] if plan.prices.is_empty() => {}
        [] => sentences
            .push("No danger costs you as much as 0.05 here, so the line is a matter of the next shot.".to_owned()),
        [one] => sentences.push(format!(
            "You lose {} to {} here, found {} of the time.",
            strokes(one.strokes),
            named(one.feature),
            percent(one.chance)
        )),
        [one, two, ..] => sentences.push(format!(
            "You lose {} to {} here, {} to {}.",
            strokes(one.strokes),
            named(one.feature),
            strokes(two.strokes),
            named(two.feature)
        )),
    }
    if let Some(sides) = plan.sides {
        let (worse, better, word, other) = if sides.left >= sides.right {
            (sides.left, sides.right, "left", "right")
        } else {
            (sides.right, sides.left, "right", "left")
        };
        if worse - better >= WORTH_SAYING {
            let miss = Length::yards(15.0).show(question.units);
            let more = strokes(worse - better);
            sentences.push(format!("A miss of {miss} {word} costs {more} more than one to the {other}."));
        }
    }
    let net_par = i32::from(plan.par) + plan.strokes_received;
    if plan.strokes_received > 0 {
        sentences.push(format!(
            "{} is net par here, {} of the time or better.",
            capital(&number(net_par)),
            percent(plan.net_par())
        ));
    }
    let bold_gain = match plan.plays.as_slice() {
        [steady, bold, ..] => bold.shots.first().zip(steady.shots.first()).map(|(b, s)| s.leaves - b.leaves),
        _ => None,
    };
    for (i, play) in plan.plays.iter_mut().enumerate() {
        play.reasons = sentences.clone();
        if i > 0
            && let Some(gain) = bold_gain.filter(|g| *g >= 5.0)
        {
            let closer = Length::yards(gain).show(question.units);
            play.reasons.insert(0, format!("It leaves {closer} less and is worth the same within what can be told."));
        }
        play.reasons.truncate(3);
    }
}

fn number(n: i32) -> String {
    const WORDS: [&str; 11] = ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    usize::try_from(n).ok().and_then(|i| WORDS.get(i)).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}
