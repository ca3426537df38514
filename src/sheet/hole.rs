//! What was written about a hole, for this tee and this player.

use crate::course::{Aim, Course, Danger, From, Hole, Layup, Note, NoteAt, ShotShape, Side, Sure, Written};
use crate::ground::marks;
use crate::units::{Across, Along, Length, LengthUnit, TeeOrigin};

/// What a line of notes is about, in reading order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NoteKind {
    /// On the tee.
    Tee,
    /// An aim point.
    Aim,
    /// A danger side.
    Danger,
    /// Where to leave the next shot.
    Leave,
    /// On the way to the green.
    Approach,
    /// On the green.
    Green,
    /// The walk in.
    WalkIn,
    /// The walk out.
    WalkOut,
}

impl NoteKind {
    /// The word at the head of its line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Aim => "aim",
            Self::Danger => "danger",
            Self::Leave => "leave",
            Self::Approach => "then",
            Self::Green => "green",
            Self::WalkIn => "in",
            Self::WalkOut => "out",
        }
    }
}

/// Whether a line applies to this tee and player today.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It does.
    Applies,
    /// It does, by a carry that is assumed: shown with these words.
    Assumes(String),
    /// It hangs on something unknown today: shown with its condition.
    Depends(String),
    /// It does not, and why.
    Not(String),
}

/// One line of notes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoteLine {
    /// What it is about.
    pub kind: NoteKind,
    /// The letter it shares with the drawing.
    pub letter: Option<char>,
    /// The words, distances counted from this player's tee.
    pub words: String,
    /// Whose it is when it is not the notebook's.
    pub whose: Option<String>,
    /// Whether it applies.
    pub standing: Standing,
}

/// A hole from one tee, for one player.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleSheet {
    /// The hole's number.
    pub number: u8,
    /// Its name.
    pub name: Option<String>,
    /// The tee set.
    pub tee: String,
    /// Where this tee stands along the line; `None` when the hole has no such tee.
    pub origin: Option<TeeOrigin>,
    /// Length from this tee to the middle of the green, yards.
    pub length: Option<f64>,
    /// Par on this player's card.
    pub par: Option<u8>,
    /// Stroke index on this player's card.
    pub stroke_index: Option<u8>,
    /// Strokes received here; negative are given back.
    pub strokes: i32,
    /// The warning line.
    pub caution: Option<String>,
    /// Every line, in reading order, applying or not.
    pub lines: Vec<NoteLine>,
    /// Letters of the pieces of ground, by index of the piece.
    pub marks: Vec<(usize, char)>,
}

/// What one written thing is worth to this player: asked of the caller, who knows the day.
pub type Asks<'a> = &'a dyn Fn(&Written) -> Standing;

impl HoleSheet {
    /// Puts the hole together for `tee` on `card`-values already chosen by the caller.
    pub fn new(
        course: &Course,
        hole: &Hole,
        golfer: &super::Golfer,
        strokes: i32,
        units: LengthUnit,
        asks: Asks<'_>,
    ) -> Self {
        let tee = hole.tees.iter().find(|t| t.name == golfer.tee);
        let origin = tee.map(|t| TeeOrigin(t.at));
        let marks = marks(&hole.ground);
        let letter = |name: &str| {
            let index = hole.ground.features.iter().position(|f| f.name.eq_ignore_ascii_case(name))?;
            marks.iter().find(|(i, _)| *i == index).map(|(_, c)| *c)
        };
        let speak = Speak { course, hole, origin: origin.unwrap_or_default(), units };
        let mut lines = Vec::new();
        let mut push = |kind: NoteKind, letter: Option<char>, words: String, written: &Written| {
            lines.push(NoteLine {
                kind,
                letter,
                words: with_certainty(words, written.sure),
                whose: written.from_layer.clone(),
                standing: asks(written),
            });
        };
        for note in hole.notes.iter().filter(|n| n.at == NoteAt::Tee) {
            push(NoteKind::Tee, None, note_words(note), &note.written);
        }
        for aim in &hole.aims {
            push(NoteKind::Aim, None, speak.aim(aim), &aim.written);
        }
        for danger in &hole.dangers {
            push(NoteKind::Danger, danger.of.as_deref().and_then(letter), speak.danger(danger), &danger.written);
        }
        for layup in &hole.layups {
            push(NoteKind::Leave, None, speak.layup(layup), &layup.written);
        }
        for (at, kind) in [(NoteAt::Approach, NoteKind::Approach), (NoteAt::Green, NoteKind::Green)] {
            for note in hole.notes.iter().filter(|n| n.at == at) {
                push(kind, None, note_words(note), &note.written);
            }
        }
        for (walk, kind) in [(&hole.walk_in, NoteKind::WalkIn), (&hole.walk_out, NoteKind::WalkOut)] {
            if let Some(words) = walk {
                push(kind, None, words.clone(), &Written::default());
            }
        }
        lines.sort_by_key(|l| l.kind);
        Self {
            number: hole.number,
            name: hole.name.clone(),
            tee: golfer.tee.clone(),
            origin,
            length: tee.map(|t| t.length),
            par: hole.par.on(golfer.card),
            stroke_index: hole.stroke_index.on(golfer.card),
            strokes,
            caution: hole.caution.clone(),
            lines,
            marks,
        }
    }

    /// The lines to show: those that apply or depend, or all.
    pub fn shown(&self, all: bool) -> impl Iterator<Item = &NoteLine> {
        self.lines.iter().filter(move |l| all || !matches!(l.standing, Standing::Not(_)))
    }
}

fn note_words(note: &Note) -> String {
    note.written.text.clone().unwrap_or_default()
}

/// A guessed number is spoken as one.
fn with_certainty(words: String, sure: Option<Sure>) -> String {
    if sure == Some(Sure::Guess) { format!("{words} (about: guessed)") } else { words }
}

/// Speaks places as the player of one tee counts them.
struct Speak<'a> {
    course: &'a Course,
    hole: &'a Hole,
    origin: TeeOrigin,
    units: LengthUnit,
}

impl Speak<'_> {
    fn length(&self, yards: f64) -> String {
        Length::yards(yards).show(self.units)
    }

    fn counted(&self, at: Along) -> String {
        self.origin.from_tee(at).show(self.units)
    }

    fn side(&self, across: Option<Across>) -> String {
        match across.map(|a| a.show(self.units)) {
            None => String::new(),
            Some(side) if side == "0" => ", on the line".to_owned(),
            Some(side) => {
                let (figure, letter) = side.split_at(side.len() - 1);
                format!(", {figure} {}", if letter == "L" { "left" } else { "right" })
            }
        }
    }

    fn aim(&self, aim: &Aim) -> String {
        let mut facts = Vec::new();
        match &aim.from {
            From::Tee => {}
            From::ToMiddle(yards) => facts.push(format!("from {} to the middle", self.length(*yards))),
            From::At(at) => facts.push(format!("from {}", self.counted(*at))),
        }
        if let Some(landmark) = &aim.landmark {
            let bearing = self.course.landmarks.iter().chain(&self.hole.landmarks).find(|l| l.name == *landmark);
            let toward = bearing.and_then(|l| l.bearing).map(|b| format!(" (bearing {b:.0}°)")).unwrap_or_default();
            facts.push(format!("at {landmark}{toward}"));
        }
        if let Some(shape) = aim.shape {
            facts.push(
                match shape {
                    ShotShape::Draw => "a draw",
                    ShotShape::Fade => "a fade",
                    ShotShape::Straight => "straight",
                }
                .to_owned(),
            );
        }
        if let Some(at) = aim.at {
            facts.push(format!("to {}{}", self.counted(at), self.side(aim.across)));
        }
        let head = match (&aim.name, facts.is_empty()) {
            (Some(name), true) => name.clone(),
            (Some(name), false) => format!("{name}: {}", facts.join(", ")),
            (None, _) => facts.join(", "),
        };
        join(&head, aim.written.text.as_deref())
    }

    fn danger(&self, danger: &Danger) -> String {
        let side = danger.side.map(|s| match s {
            Side::Left => "left",
            Side::Right => "right",
            Side::Short => "short",
            Side::Long => "long",
        });
        let head = match (&danger.of, side) {
            (Some(of), Some(side)) => format!("{of}, {side}"),
            (Some(of), None) => of.clone(),
            (None, Some(side)) => side.to_owned(),
            (None, None) => String::new(),
        };
        join(&head, danger.written.text.as_deref())
    }

    fn layup(&self, layup: &Layup) -> String {
        let mut head = match (layup.to_middle, layup.at) {
            (Some(yards), _) => format!("{} to the middle", self.length(yards)),
            (None, Some(at)) => format!("at {}", self.counted(at)),
            (None, None) => String::new(),
        };
        if layup.across.is_some() {
            head.push_str(&self.side(layup.across));
        }
        join(&head, layup.written.text.as_deref())
    }
}

/// `head: text`, whichever of them there is.
fn join(head: &str, text: Option<&str>) -> String {
    match (head.is_empty(), text.map(str::trim).filter(|t| !t.is_empty())) {
        (false, Some(text)) => format!("{head}. {text}"),
        (true, Some(text)) => text.to_owned(),
        (_, None) => head.to_owned(),
    }
}
