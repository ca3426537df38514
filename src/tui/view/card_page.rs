//! The whole card of one to four players, with what the round's format makes of it.

use super::card::{BoxPlace, Row, Shown, rows_for, rows_of, whole_width};
use super::paint;
use crate::handicap::Scoring;
use crate::session::Session;
use crate::sheet::{CardSheet, Golfer, LiveCard, LiveSide};
use crate::tui::looks::Looks;
use crate::units::tenths::whole_handicap_text;
use ratatui::text::{Line, Span};
use std::ops::Range;

/// What the page shows and where the focus is.
#[derive(Clone, Copy, Debug)]
pub struct CardPage<'a> {
    /// What is open.
    pub session: &'a Session,
    /// The card of each player.
    pub cards: &'a [CardSheet],
    /// The state in the round's format.
    pub live: Option<&'a LiveCard>,
    /// The player with the focus.
    pub player: usize,
    /// The position with the focus; beyond the card for none.
    pub at: usize,
    /// Columns.
    pub width: usize,
    /// How the terminal is drawn on.
    pub looks: Looks,
}

/// The page being put together.
struct Page {
    lines: Vec<Line<'static>>,
    place: Option<BoxPlace>,
}

impl CardPage<'_> {
    /// The lines, and where the box with the focus is.
    pub fn lines(&self) -> (Vec<Line<'static>>, Option<BoxPlace>) {
        let mut page = Page { lines: Vec::new(), place: None };
        if let Some(live) = self.live {
            self.terms(live, &mut page);
        }
        let holders = self.session.holders();
        match (holders.as_slice(), self.live) {
            ([single], _) => self.alone(*single, &mut page),
            (_, Some(live)) => {
                self.table_head(&holders, &mut page);
                for side in &live.sides {
                    self.side(live, side, &holders, &mut page);
                }
                self.after_this_hole(live, &mut page);
            }
            (_, None) => {
                self.table_head(&holders, &mut page);
                for player in &holders {
                    self.heading(*player, "", &mut page);
                    self.table_rows(*player, &holders, &mut page);
                    self.totals(*player, &mut page);
                }
            }
        }
        (page.lines, page.place)
    }

    /// What is played, by which Terms, and which figure is compared.
    fn terms(&self, live: &LiveCard, page: &mut Page) {
        let terms = if live.terms.is_empty() { String::new() } else { format!(", {}", live.terms) };
        let words = format!("{}{terms}; compares {}", live.play, live.compares);
        page.lines.extend(paint::wrap(&words, self.width).into_iter().map(|l| Line::styled(l, self.looks.text())));
        page.lines.push(Line::default());
    }

    /// One card alone: every row, its nines one under the other where it does not fit.
    fn alone(&self, player: usize, page: &mut Page) {
        let Some(shown) = Shown::of(self.cards, self.live, player) else { return };
        let now = shown.live.map(|(_, side)| side.now.clone()).unwrap_or_default();
        self.heading(player, &now, page);
        let rows = rows_for(usize::MAX, self.live);
        for part in self.parts(shown.sheet) {
            self.rows(shown, player, &rows, part, page);
        }
        self.noted(shown, page);
        if let Some((_, side)) = shown.live {
            self.still(side, page);
            self.on_the_tee(side, page);
        }
        self.totals(player, page);
    }

    /// The parts of a card as they stand: whole where it fits, else nine by nine.
    fn parts(&self, sheet: &CardSheet) -> Vec<Range<usize>> {
        let n = sheet.lines.len();
        if self.width >= whole_width(n) { std::iter::once(0..n).collect() } else { sheet.parts() }
    }

    /// The part of a table of several cards: whole where it fits, else the part with the focus, so that all players stay
    /// in view.
    fn part(&self, sheet: &CardSheet) -> Range<usize> {
        let parts = self.parts(sheet);
        parts.iter().find(|part| part.contains(&self.at)).or(parts.first()).cloned().unwrap_or(0..0)
    }

    fn cell(&self, sheet: &CardSheet) -> usize {
        if self.width >= whole_width(sheet.lines.len()) + sheet.lines.len() + 30 { 4 } else { 3 }
    }

    fn rows(&self, shown: Shown<'_>, player: usize, rows: &[Row], part: Range<usize>, page: &mut Page) {
        let here = player == self.session.holder(self.player) && part.contains(&self.at);
        let at = if here { self.at } else { usize::MAX };
        let offset = page.lines.len() as u16;
        let (lines, found) = rows_of(shown, rows, part, self.cell(shown.sheet), at, self.looks);
        if let Some(found) = found {
            page.place = Some(BoxPlace { column: found.column, row: found.row + offset });
        }
        page.lines.extend(lines);
    }

    /// Holes, par and stroke index once over all cards.
    fn table_head(&self, holders: &[usize], page: &mut Page) {
        let Some(shown) = holders.first().and_then(|first| Shown::of(self.cards, self.live, *first)) else { return };
        let part = self.part(shown.sheet);
        // The hole with the focus is marked over every card.
        let (lines, _) =
            rows_of(shown, &[Row::Hole, Row::Par, Row::Index], part, self.cell(shown.sheet), self.at, self.looks);
        page.lines.extend(lines);
    }

    /// The rows of one player in the table: par and index again only where theirs are others.
    fn table_rows(&self, player: usize, holders: &[usize], page: &mut Page) {
        let Some(shown) = Shown::of(self.cards, self.live, player) else { return };
        let first = holders.first().and_then(|first| self.cards.get(*first));
        let differs = |row: Row| {
            first.is_some_and(|first| {
                first.lines.iter().zip(&shown.sheet.lines).any(|(a, b)| match row {
                    Row::Par => a.hole.par != b.hole.par,
                    Row::Index => a.stroke_index != b.stroke_index,
                    _ => false,
                })
            })
        };
        let whole_side = self.live.is_some_and(|live| live.whole_side);
        let rows: Vec<Row> = rows_for(usize::MAX, self.live)
            .into_iter()
            .filter(|row| match row {
                Row::Hole => false,
                Row::Par | Row::Index => differs(*row),
                Row::Strokes => shown.sheet.lines.iter().any(|l| l.hole.strokes != 0),
                Row::Format => !whole_side,
                Row::Net => self.live.is_some(),
                Row::Gross | Row::Points => true,
            })
            .collect();
        let part = self.part(shown.sheet);
        self.rows(shown, player, &rows, part, page);
        self.noted(shown, page);
    }

    /// One side: its names and state, the cards of its players, its own row.
    fn side(&self, live: &LiveCard, side: &LiveSide, holders: &[usize], page: &mut Page) {
        let players: Vec<usize> = side.players.iter().copied().filter(|p| holders.contains(p)).collect();
        let partners = players.len() > 1;
        if partners {
            page.lines.push(Line::from(vec![
                Span::styled(side.name.clone(), self.looks.heading()),
                Span::styled(format!("  {}", side.now), self.looks.figure()),
            ]));
        }
        for player in &players {
            self.heading(*player, if partners { "" } else { &side.now }, page);
            self.table_rows(*player, holders, page);
        }
        if live.whole_side
            && let Some(first) = players.first()
            && let Some(shown) = Shown::of(self.cards, self.live, *first)
        {
            let part = self.part(shown.sheet);
            let (lines, _) = rows_of(shown, &[Row::Format], part, self.cell(shown.sheet), usize::MAX, self.looks);
            page.lines.extend(lines);
        }
        self.still(side, page);
        self.on_the_tee(side, page);
        page.lines.push(Line::default());
    }

    /// The name over a card with the state and as much of the handicap as fits.
    fn heading(&self, player: usize, now: &str, page: &mut Page) {
        let Some(golfer) = self.session.golfers.get(player) else { return };
        let several = self.session.holders().len() > 1;
        let mark = if several && self.session.holder(self.player) == player { "> " } else { "" };
        let name = self.session.round.as_ref().map_or_else(|| golfer.name.clone(), |r| r.opening().name_of_box(player));
        let head = format!("{mark}{name}");
        let state = if now.is_empty() { String::new() } else { format!("  {now}") };
        let room = self.width.saturating_sub(Line::from(head.as_str()).width() + Line::from(state.as_str()).width());
        let long = format!("  {} tees{}{}", golfer.tee, self.looks.between(), self.handicap(golfer, true));
        let short = format!("  {}", self.handicap(golfer, false));
        let facts = [long, short].into_iter().find(|w| Line::from(w.as_str()).width() <= room).unwrap_or_default();
        page.lines.push(Line::from(vec![
            Span::styled(head, self.looks.heading()),
            Span::styled(state, self.looks.figure()),
            Span::styled(facts, self.looks.quiet()),
        ]));
    }

    /// The handicap that a card is played off, and what is received where that is another figure.
    fn handicap(&self, golfer: &Golfer, long: bool) -> String {
        if let Some(why) = &golfer.why_no_strokes {
            return format!("no strokes: {why}");
        }
        let opening = self.session.round.as_ref().map(|r| r.opening());
        if opening.is_some_and(|o| o.terms.gross) {
            return "no strokes received".to_owned();
        }
        let one_ball = opening.is_some_and(|o| o.one_ball());
        let holes = self.session.holes();
        let received: i32 = golfer.strokes.iter().take(holes).sum();
        let playing = golfer.playing_handicap;
        let off = if received == playing {
            format!("plays off {}", whole_handicap_text(playing))
        } else {
            format!("Playing Handicap {}, receives {received}", whole_handicap_text(playing))
        };
        let course = golfer.course_handicap.map(|c| whole_handicap_text(c.rounded())).unwrap_or_default();
        match golfer.index {
            Some(index) if long && !one_ball => format!("index {index}, Course Handicap {course}, {off}"),
            _ if one_ball => format!("the side {off}"),
            _ => off,
        }
    }

    /// What is still needed and possible.
    fn still(&self, side: &LiveSide, page: &mut Page) {
        let mut words: Vec<&str> = side.needs.iter().map(String::as_str).collect();
        // Of a match one side says it for both; elsewhere it means something when the round nears its end.
        let says = match self.live {
            Some(live) if live.play.scoring == Scoring::Match => side.players.contains(&0),
            _ => side.standing.left <= 9,
        };
        if says && side.possible != side.now && side.standing.decided > 0 {
            words.push(&side.possible);
        }
        if !words.is_empty() {
            let words = words.join("; ");
            page.lines.extend(paint::wrap(&words, self.width).into_iter().map(|l| Line::styled(l, self.looks.quiet())));
        }
    }

    /// Who plays from this tee where that alternates; the card does not know who began.
    fn on_the_tee(&self, side: &LiveSide, page: &mut Page) {
        let name = |at: usize| {
            let player = side.players.get(at)?;
            Some(self.session.golfers.get(*player)?.name.clone())
        };
        let tee = side.tees.get(self.at).copied().flatten();
        if let (Some(tee), Some(first)) = (tee.and_then(name), name(0)) {
            let words = format!("from this tee {tee}, if {first} began");
            page.lines.push(Line::styled(paint::shorten(&words, self.width), self.looks.quiet()));
        }
    }

    /// Concessions and penalty strokes as noted, in words.
    fn noted(&self, shown: Shown<'_>, page: &mut Page) {
        let words: Vec<String> = shown.sheet.lines.iter().filter_map(noted_words).collect();
        if !words.is_empty() {
            let words = words.join("; ");
            page.lines.extend(paint::wrap(&words, self.width).into_iter().map(|l| Line::styled(l, self.looks.quiet())));
        }
    }

    /// The state after the hole with the focus, where it is not the last one that counts.
    fn after_this_hole(&self, live: &LiveCard, page: &mut Page) {
        let Some(number) = self.session.order.get(self.at) else { return };
        let Some(side) = live.side_of(self.player) else { return };
        let open = side.marks.get(self.at).is_none_or(String::is_empty);
        if let Some(words) = side.after.get(self.at).filter(|w| !open && **w != side.now) {
            let words = format!("after hole {number}: {}: {words}", side.name);
            page.lines.push(Line::styled(paint::shorten(&words, self.width), self.looks.text()));
        }
    }

    /// Totals of a card: gross, net and points each by its name.
    fn totals(&self, player: usize, page: &mut Page) {
        let Some(sheet) = self.cards.get(player) else { return };
        let (looks, total) = (self.looks, sheet.total());
        if total.entered > 0 {
            let holes = if total.entered == 1 { "1 hole".to_owned() } else { format!("{} holes", total.entered) };
            let missing = if total.has_total() {
                String::new()
            } else {
                format!("{}{} without a score", looks.between(), total.without_score)
            };
            let words = match self.live {
                // In a format the card says of every figure which one it is, and adds no second count.
                Some(live) if live.play.scoring == Scoring::Match => return,
                Some(_) => format!("gross {}", against_par(total.to_par)),
                None => format!(
                    "{}{}{} points{}{}",
                    against_par(total.to_par),
                    looks.between(),
                    total.points,
                    looks.between(),
                    sheet.against_handicap()
                ),
            };
            page.lines.push(Line::styled(format!("after {holes}: {words}{missing}"), looks.text()));
        }
        page.lines.push(Line::default());
    }
}

fn against_par(strokes: i32) -> String {
    match strokes {
        0 => "level par".to_owned(),
        n if n > 0 => format!("{n} over par"),
        n => format!("{} under par", -n),
    }
}

/// What was noted to a box: `hole 4: 1 penalty stroke`.
fn noted_words(line: &crate::sheet::CardLine) -> Option<String> {
    let mut words = Vec::new();
    if line.conceded {
        words.push(
            if line.hole.score.is_entered() { "the last stroke conceded" } else { "the hole conceded" }.to_owned(),
        );
    }
    match line.penalty_strokes {
        0 => {}
        1 => words.push("1 penalty stroke".to_owned()),
        n => words.push(format!("{n} penalty strokes")),
    }
    (!words.is_empty()).then(|| format!("hole {}: {}", line.hole.number, words.join(", ")))
}
