//! The pocket book put together: front page, holes, greens, clubs of the day, card.

use super::cover;
use super::hole::{HoleValues, leaf, shape};
use super::leaf::{Block, Head, Leaf};
use super::putting::{GreenDrawing, LARGEST_PAGE};
use super::size::Size;
use crate::course::{Applies, Facts};
use crate::course::{Course, Hand, Hole, HoleNotes, Written, applies, condition_words};
use crate::pattern::bag::{Club, complete};
use crate::plan::Frozen;
use crate::session::{Person, Session};
use crate::sheet::{Golfer, HoleSheet, Standing};
use crate::units::LengthUnit;
use crate::units::digest::Digest;
use crate::units::plain_text::plain;
use rayon::prelude::*;

/// For whom a book is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Edition {
    /// For one player.
    #[default]
    Player,
    /// The notebook by tee, for nobody in particular.
    Professional,
}

/// What a book is to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// For whom.
    pub edition: Edition,
    /// Greens held to the limits of Rule 4.3a.
    pub competition: bool,
    /// With pages of greens.
    pub greens: bool,
    /// The size of its pages.
    pub page: Size,
    /// Drawings are wanted; plain text has none.
    pub draws: bool,
}

impl Default for Wish {
    fn default() -> Self {
        Self { edition: Edition::Player, competition: false, greens: true, page: Size::POCKET, draws: true }
    }
}

/// A book while it is made.
pub struct Book<'a> {
    /// What is open.
    pub session: &'a Session,
    /// The course.
    pub course: &'a Course,
    /// The player, by place.
    pub player: usize,
    /// Their values.
    pub golfer: &'a Golfer,
    /// The player as chosen.
    pub person: &'a Person,
    /// Another tee than the player's.
    pub tee: Option<String>,
    /// For whom.
    pub edition: Edition,
    /// Under the Rules.
    pub competition: bool,
    /// The plans.
    pub plans: Option<&'a Frozen>,
    /// The unit of its reader.
    pub units: LengthUnit,
    /// The player's clubs, filled in.
    pub clubs: Vec<Club>,
    /// The pages are larger than Rule 4.3a allows for images of greens.
    pub greens_left_out: bool,
    /// When and how the plan came about, and its stamp.
    pub plan_words: String,
}

impl<'a> Book<'a> {
    /// A book of what is open; `None` without a course or a player.
    pub fn new(
        session: &'a Session,
        player: usize,
        tee: Option<&str>,
        plans: Option<&'a Frozen>,
        wish: &Wish,
    ) -> Option<Self> {
        let course = session.course.as_ref()?;
        let (golfer, person) = (session.golfers.get(player)?, session.people.get(player)?);
        let professional = wish.edition == Edition::Professional;
        let (_, clubs, _) = complete(&person.bag, &person.skill());
        let plans = plans.filter(|_| !professional);
        Some(Self {
            session,
            course,
            player,
            golfer,
            person,
            tee: tee.map(str::to_owned),
            edition: wish.edition,
            competition: wish.competition,
            plans,
            units: if professional { course.units } else { golfer.units },
            clubs,
            greens_left_out: wish.competition && !wish.page.within(LARGEST_PAGE),
            plan_words: plan_words(session, plans),
        })
    }

    /// The tee set it is for.
    pub fn tee_name(&self) -> &str {
        self.tee.as_deref().unwrap_or(&self.golfer.tee)
    }

    /// The hole at a place of the order as this reader sees it.
    pub fn hole_sheet(&self, position: usize) -> Option<HoleSheet> {
        if self.edition == Edition::Player {
            return self.session.hole_sheet(position, self.player, self.tee.as_deref(), self.units);
        }
        let hole = self.course.hole(*self.session.order.get(position)?)?;
        let asked = self.tee_name().to_owned();
        let tee = self.course.tee_on(hole, &asked).map_or(asked.clone(), |t| t.name.clone());
        let golfer = Golfer { tee: tee.clone(), ..self.golfer.clone() };
        let facts = Facts { tee: &tee, today: Some(&self.session.today), unit: self.units, ..Facts::default() };
        let asks = |written: &Written| standing(written, &facts);
        let sheet = HoleSheet::new(self.course, hole, &self.notes(hole), &golfer, 0, self.units, &asks);
        Some(HoleSheet { instead_of: (asked != sheet.tee).then_some(asked), ..sheet })
    }

    /// What is written about a hole: with the layers of a player, or the notebook and what is for everybody.
    pub fn notes(&self, hole: &Hole) -> HoleNotes {
        let nobody = self.person.assumed && self.edition == Edition::Player;
        let layers = self.session.layers.iter().map(|(layer, _)| layer).filter(|layer| match self.edition {
            Edition::Player => nobody || layer.is_for(&self.golfer.name),
            Edition::Professional => layer.for_whom.is_none(),
        });
        HoleNotes::with_layers(hole, layers)
    }

    /// The usual shape of a club of this player.
    pub fn curve(&self, club: &str) -> Option<&'static str> {
        let club = self.clubs.iter().find(|c| c.name.eq_ignore_ascii_case(club))?;
        shape(club.curve, self.hand())
    }

    /// The player's hand.
    pub fn hand(&self) -> Hand {
        self.golfer.hand
    }

    /// Whether the day counts points.
    pub fn counts_points(&self) -> bool {
        matches!(self.session.aimed(), crate::plan::Aimed::Points)
    }

    /// Whose it is, in a few words.
    pub fn whose(&self) -> String {
        match self.edition {
            Edition::Player => plain(&self.golfer.name).into_owned(),
            Edition::Professional => "for every player".to_owned(),
        }
    }

    /// The date it is for.
    pub fn date(&self) -> &str {
        self.session.day.as_ref().map_or(&self.session.today, |(day, _)| &day.date)
    }

    /// The small lines at the foot of every page; with the notice of the map where one is drawn.
    pub fn colophon(&self, map: bool) -> Vec<String> {
        let mut first = vec![plain(&self.course.name).into_owned()];
        first.extend(self.course.edition.as_ref().map(|e| format!("edition {}", plain(e))));
        first.push(format!("{} tee", plain(self.tee_name())));
        first.push(self.whose());
        first.push(self.date().to_owned());
        if !self.plan_words.is_empty() && self.edition == Edition::Player {
            first.push(self.plan_words.clone());
        }
        let mut lines = vec![
            first.join(" · "),
            "Not official: Rules, Committee and your own eyes decide. Never play until the group ahead is out of range.".to_owned(),
        ];
        if map {
            lines.extend(self.course.credit.as_ref().map(|credit| plain(&credit.line()).into_owned()));
        }
        lines
    }
}

/// How a plan is named on paper.
fn plan_words(session: &Session, plans: Option<&Frozen>) -> String {
    let Some(plans) = plans else { return String::new() };
    if let Some((stamp, _)) = session.round.as_ref().and_then(|r| r.frozen()) {
        return format!("plan {stamp}");
    }
    let bytes = serde_json::to_vec(&plans.holes).unwrap_or_default();
    let stamp: String = Digest::of(&bytes).to_string().chars().take(8).collect();
    format!("plan {stamp}")
}

/// How a written thing stands where nothing is known but the tee.
fn standing(written: &Written, facts: &Facts<'_>) -> Standing {
    if written.when.pupil.is_some() {
        return Standing::Not("for pupils by name".to_owned());
    }
    let judged = match written.until.as_deref().zip(facts.today) {
        Some((until, today)) if today > until => return Standing::Not(format!("it held until {until}")),
        _ => applies(&crate::course::When { hand: None, tees: written.when.tees.clone(), ..Default::default() }, facts),
    };
    let rest = crate::course::When { tees: None, ..written.when.clone() };
    match judged {
        Applies::No(why) => Standing::Not(why),
        _ if rest == crate::course::When::default() => Standing::Applies,
        _ => Standing::Depends(condition_words(&rest, facts.unit)),
    }
}

/// The leaves of a book, in the order of its pages.
pub fn book(book: &Book<'_>, wish: &Wish) -> Vec<Leaf> {
    // Holes are independent and are collected in order, so the book never depends on the threads.
    let holes: Vec<HoleValues<'_>> = (0..book.session.order.len())
        .into_par_iter()
        .filter_map(|position| HoleValues::new(book, position, wish.draws))
        .collect();
    let mut leaves = vec![cover::front(book, wish)];
    // For practice each hole faces its green; in competition small greens share pages of their own.
    let facing = wish.greens && !wish.competition;
    for values in &holes {
        leaves.push(leaf(book, values));
        if facing {
            leaves.push(green(book, values.position).unwrap_or_else(|| no_green(book, values.sheet.number)));
        }
    }
    if wish.greens && wish.competition {
        leaves.extend(greens(book, wish));
    }
    if book.edition == Edition::Professional {
        leaves.extend(cover::whole_course(book, &holes));
    }
    if book.edition == Edition::Player {
        leaves.push(cover::clubs(book));
    }
    leaves.push(cover::card(book));
    leaves
}

/// What of a notebook's text does not fit a page of 4¼ by 7 inches, for `check --advice`: the professional's edition from the
/// first tee is laid out and looked at.
pub fn advice(course: &Course, today: &str) -> Vec<super::Shortened> {
    let tee = course.tees.first().map(|t| t.name.clone()).unwrap_or_default();
    let mut session = Session { course: Some(course.clone()), today: today.to_owned(), ..Session::default() };
    session.people.push(Person::assumed(&tee, course.units));
    session.refresh();
    let wish = Wish { edition: Edition::Professional, greens: false, ..Wish::default() };
    let Some(made) = Book::new(&session, 0, Some(&tee), None, &wish) else { return Vec::new() };
    super::lay(&book(&made, &wish), wish.page).shortened
}

/// The page of one green for practice, with what is written of it; `None` where no green is drawn.
fn green(book: &Book<'_>, position: usize) -> Option<Leaf> {
    let number = *book.session.order.get(position)?;
    let hole = book.course.hole(number)?;
    let day = book.session.day.as_ref().map(|(day, _)| day);
    let location = day.and_then(|d| d.hole_location(number));
    let drawn = GreenDrawing::new(hole, location, book.course.units, book.units, false)?;
    let sheet = book.hole_sheet(position)?;
    let mut blocks = super::hole::green_notes(&sheet);
    blocks.push(Block::Small(format!(
        "Come to from below. Lines across every 5 {}; an arrow points where the ground falls. For practice: not to the limits of Rule 4.3a.",
        book.units.word()
    )));
    let facts = drawn.facts.join(" · ");
    blocks.push(Block::Greens(1, vec![GreenDrawing { name: String::new(), facts: Vec::new(), ..drawn }]));
    Some(Leaf {
        name: format!("green {number}"),
        head: Head { figure: number.to_string(), name: "Green".to_owned(), facts, ..Head::default() },
        blocks,
        colophon: book.colophon(true),
        ..Leaf::default()
    })
}

/// A page to write on, so that the holes that follow still face their greens.
fn no_green(book: &Book<'_>, number: u8) -> Leaf {
    Leaf {
        name: format!("green {number}"),
        head: Head {
            figure: number.to_string(),
            name: "Green".to_owned(),
            facts: "not drawn in the notebook".to_owned(),
            ..Head::default()
        },
        colophon: book.colophon(false),
        ..Leaf::default()
    }
}

/// Pages of greens; in the competition edition to scale, or a page that says why there are none.
pub fn greens(book: &Book<'_>, wish: &Wish) -> Vec<Leaf> {
    let day = book.session.day.as_ref().map(|(day, _)| day);
    let greens: Vec<GreenDrawing> = book
        .session
        .order
        .iter()
        .filter_map(|number| {
            let hole = book.course.hole(*number)?;
            let location = day.and_then(|d| d.hole_location(*number));
            GreenDrawing::new(hole, location, book.course.units, book.units, wish.competition)
        })
        .collect();
    if greens.is_empty() {
        return Vec::new();
    }
    let head = |facts: &str| Head { name: "Greens".to_owned(), facts: facts.to_owned(), ..Head::default() };
    if wish.competition && !wish.page.within(LARGEST_PAGE) {
        return vec![Leaf {
            name: "greens".to_owned(),
            head: head("left out in the competition edition"),
            blocks: vec![Block::Words(
                "No green is drawn on these pages: Rule 4.3a, Interpretation 4.3a/1 (2023), allows images of greens in a book only up to 4¼ by 7 inches, at a scale of at most 3/8 inch to 5 yards (1:480). Make the book on pages of that size to have them."
                    .to_owned(),
            )],
            colophon: book.colophon(false),
            ..Leaf::default()
        }];
    }
    if !wish.competition {
        return (0..book.session.order.len()).filter_map(|position| green(book, position)).collect();
    }
    let (facts, columns, each) = ("competition edition: at most 1:480, page at most 4¼ × 7 in", 2, 4);
    greens
        .chunks(each)
        .map(|part| Leaf {
            name: format!("greens {}", part.first().and_then(|g| g.name.split(' ').next()).unwrap_or_default()),
            head: head(facts),
            blocks: vec![
                Block::Small(format!(
                    "Come to from below. Lines across every 5 {}; arrows point where the ground falls. Rule 4.3a, Interpretation 4.3a/1 (2023).",
                    book.units.word()
                )),
                Block::Greens(columns, part.to_vec()),
            ],
            colophon: book.colophon(true),
            ..Leaf::default()
        })
        .collect()
}
