//! A player's clubs as plain numbers, and what is assumed where a number is missing.

use super::Skill;
use std::fmt;

/// Size of a box that holds two shots in three each way, in standard deviations (Course Rating System Manual, section 4,
/// as read in the reference on strategy, 2.2).
pub const TWO_IN_THREE: f64 = 1.94;

/// A club as the player gives it. Yards; what is `None` is assumed.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct BagClub {
    /// Its name, as `7 iron`.
    pub name: String,
    /// Carry of a full swing from a tee or a good lie.
    pub carry: Option<f64>,
    /// Run on usual fairway after it.
    pub run: Option<f64>,
    /// How far right of its start a usual shot finishes; negative is left.
    pub curve: Option<f64>,
    /// Width of the box that holds two shots in three.
    pub wide: Option<f64>,
    /// Depth of that box.
    pub deep: Option<f64>,
    /// Correlation of length with direction, -0.95 to 0.95: positive when the long ones go right.
    pub lean: Option<f64>,
    /// Chance of a mishit.
    pub mishits: Option<f64>,
}

/// A shorter swing that the player knows by name.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownSwing {
    /// Its name, as `half wedge`.
    pub name: String,
    /// The club's name.
    pub club: String,
    /// Its carry.
    pub carry: f64,
}

/// The clubs, in any order, and the shorter swings.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Bag {
    /// The clubs; empty means that all of them are assumed. A putter is ignored.
    pub clubs: Vec<BagClub>,
    /// Shorter swings known by name.
    pub swings: Vec<KnownSwing>,
}

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// The player gave it.
    Given,
    /// Assumed from the Handicap Index, or from the player's other clubs.
    Assumed,
}

/// A club with every number filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Club {
    /// Its name.
    pub name: String,
    /// Carry of the full swing.
    pub carry: f64,
    /// Run on usual fairway.
    pub run: f64,
    /// How far right of its start a usual shot finishes.
    pub curve: f64,
    /// Width of the box that holds two shots in three from a tee.
    pub wide: f64,
    /// Depth of that box.
    pub deep: f64,
    /// Correlation of length with direction.
    pub lean: f64,
    /// Chance of a mishit from a good lie.
    pub mishits: f64,
    /// Whether it is a driver, which is not played off the ground.
    pub driver: bool,
    /// Where the carry comes from.
    pub carry_from: Source,
    /// Where the run comes from.
    pub run_from: Source,
    /// Where the curve comes from; an assumed one is none.
    pub curve_from: Source,
    /// Where the box comes from; `Assumed` when either side of it is.
    pub box_from: Source,
    /// Where the chance of a mishit comes from.
    pub mishits_from: Source,
}

/// The carry that conditions of notes mean by the driver's, yards: the driver's, else the longest that is given, else the
/// longest club's.
pub fn longest_carry(clubs: &[Club]) -> Option<(f64, Source)> {
    let given = || {
        let given = clubs.iter().filter(|c| c.carry_from == Source::Given);
        given.max_by(|a, b| a.carry.total_cmp(&b.carry))
    };
    let club = clubs.iter().find(|c| c.driver).or_else(given).or_else(|| clubs.first())?;
    Some((club.carry, club.carry_from))
}

impl Club {
    /// Carry and run.
    pub fn total(&self) -> f64 {
        self.carry + self.run
    }
}

/// Something about a bag that its owner should be told.
#[derive(Clone, Debug, PartialEq)]
pub enum Remark {
    /// No club was given: all are assumed.
    EmptyBag,
    /// A club without carry whose name says nothing of its length; it is left out.
    UnknownClub(String),
    /// A carry, run, curve, lean or chance that no player has; the assumed one is used.
    Implausible {
        /// The club.
        club: String,
        /// Which number.
        what: &'static str,
        /// What was given.
        given: f64,
    },
    /// A pattern tighter than half the tour's at that length, zero included; the assumed one is used.
    NoSpread(String),
    /// A pattern three times as wide as that of a player of index 54; it is used as given up to that.
    WideSpread(String),
    /// A swing of a club that is not in the bag, or longer than its full swing; it is left out.
    UnknownSwing(String),
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::EmptyBag => write!(f, "no clubs given: all are assumed from the Handicap Index"),
            Self::UnknownClub(name) => {
                write!(f, "{name}: its length cannot be assumed from its name, so it is left out; give its carry")
            }
            Self::Implausible { club, what, given } => {
                write!(f, "{club}: {what} {given} is not possible; the assumed one is used")
            }
            Self::NoSpread(name) => write!(
                f,
                "{name}: a box of two in three tighter than half the tour's is not believed; the assumed one is used"
            ),
            Self::WideSpread(name) => write!(
                f,
                "{name}: the box of two in three is wider than any player's; three times that of index 54 is used"
            ),
            Self::UnknownSwing(name) => {
                write!(f, "{name}: its club is not in the bag or its full swing is shorter; it is left out")
            }
        }
    }
}

/// Clubs of an assumed bag and their totals as shares of the drive: the swing list of the reference on strategy, section 5, with
/// one left out so that thirteen clubs and a putter make fourteen (Rules of Golf 2023, 4.1b).
pub const ASSUMED: [(&str, f64); 13] = [
    ("driver", 1.0),
    ("3 wood", 0.92),
    ("5 wood", 0.87),
    ("4 hybrid", 0.82),
    ("5 iron", 0.77),
    ("6 iron", 0.72),
    ("7 iron", 0.67),
    ("8 iron", 0.62),
    ("9 iron", 0.575),
    ("pitching wedge", 0.53),
    ("gap wedge", 0.44),
    ("sand wedge", 0.395),
    ("lob wedge", 0.35),
];

/// Share of the drive that a club of this name usually goes; `None` when the name says nothing.
pub fn usual_share(name: &str) -> Option<f64> {
    let name = name.trim().to_lowercase().replace('-', " ");
    if let Some((_, share)) = ASSUMED.iter().find(|(n, _)| *n == name) {
        return Some(*share);
    }
    if name.contains("driver") {
        return Some(1.0);
    }
    let number = |text: &str| text.trim().parse::<f64>().ok();
    for (kind, first, step) in [("wood", 0.995, 0.025), ("hybrid", 0.98, 0.04), ("iron", 1.02, 0.05)] {
        let figure =
            name.strip_suffix(kind).or_else(|| name.strip_prefix(kind)).or_else(|| name.strip_suffix(kind.get(..1)?));
        if let Some(n) = figure.and_then(number)
            && (1.0..=11.0).contains(&n)
        {
            return Some(first - step * n);
        }
    }
    match name.as_str() {
        "pw" | "wedge" | "p" => Some(0.53),
        "gw" | "aw" | "approach wedge" | "a" => Some(0.44),
        "sw" | "s" => Some(0.395),
        "lw" | "l" => Some(0.35),
        _ => loft(&name).map(|deg| (0.53 - 0.0128 * (deg - 46.0)).clamp(0.30, 0.62)),
    }
}

/// `56`, `56 degrees`, `56 wedge`: a wedge by its loft.
fn loft(name: &str) -> Option<f64> {
    let first = name.split_whitespace().next()?.trim_end_matches(['°', 'º']);
    let deg = first.parse::<f64>().ok()?;
    (40.0..=66.0).contains(&deg).then_some(deg)
}

/// Whether the name is that of a putter, with which no swing is made.
pub fn is_putter(name: &str) -> bool {
    name.to_lowercase().contains("putter")
}

/// Share of a shot of `total` yards that a player of this drive carries: 90 per cent with the driver and the longest shot off
/// the ground (Course Rating: 225 + 25, 200 + 20, 180 + 20), 96 with a short iron, less again for a chip.
pub fn carried_share(total: f64, drive: f64) -> f64 {
    let long = ((total / drive - 0.5) / 0.38).clamp(0.0, 1.0);
    let chip = ((40.0 - total) / 40.0).clamp(0.0, 1.0);
    1.0 - (0.04 + 0.06 * long + 0.24 * chip)
}

/// The same for a full swing that goes this share of the drive, whatever the drive: a full swing is never a chip.
fn carried_of_share(share: f64) -> f64 {
    const ANY_DRIVE: f64 = 250.0;
    carried_share((share * ANY_DRIVE).max(40.0), ANY_DRIVE)
}

/// Fills in what a bag leaves open. Returns the drive that the bag means, the clubs from the longest, and the remarks.
pub fn complete(bag: &Bag, skill: &Skill) -> (f64, Vec<Club>, Vec<Remark>) {
    let mut remarks = Vec::new();
    let mut given: Vec<BagClub> = bag.clubs.iter().filter(|c| !is_putter(&c.name)).cloned().collect();
    for club in &mut given {
        doubt(club, &mut remarks);
    }
    if given.is_empty() {
        remarks.push(Remark::EmptyBag);
        given = ASSUMED.iter().map(|(name, _)| BagClub { name: (*name).to_owned(), ..BagClub::default() }).collect();
    }
    let drive = drive_of(&given, skill);
    let own = Skill { drive, ..skill.clone() };
    let ladder = ladder(&given);
    let mut clubs: Vec<Club> = given.iter().filter_map(|club| fill(club, &own, &ladder, &mut remarks)).collect();
    if clubs.is_empty() {
        remarks.push(Remark::EmptyBag);
        return complete(&Bag::default(), skill);
    }
    clubs.sort_by(|a, b| b.total().total_cmp(&a.total()).then_with(|| a.name.cmp(&b.name)));
    (drive, clubs, remarks)
}

/// Takes out numbers that nobody has, and says so.
fn doubt(club: &mut BagClub, remarks: &mut Vec<Remark>) {
    let name = club.name.clone();
    let mut check = |slot: &mut Option<f64>, what: &'static str, from: f64, to: f64| {
        if let Some(given) = *slot
            && !(given >= from && given <= to)
        {
            *slot = None;
            remarks.push(Remark::Implausible { club: name.clone(), what, given });
        }
    };
    check(&mut club.carry, "carry", 5.0, 400.0);
    check(&mut club.run, "run", 0.0, 120.0);
    check(&mut club.curve, "curve", -80.0, 80.0);
    check(&mut club.lean, "lean", -0.95, 0.95);
    check(&mut club.mishits, "chance of a mishit", 0.0, 0.8);
    check(&mut club.wide, "width of the box", 0.0, 1000.0);
    check(&mut club.deep, "depth of the box", 0.0, 1000.0);
}

/// The drive that the given carries mean: the driver's own, else what the other clubs' usual shares make of theirs.
fn drive_of(clubs: &[BagClub], skill: &Skill) -> f64 {
    let total = |c: &BagClub, share: f64| {
        c.carry.map(|carry| carry + c.run.unwrap_or_else(|| carry * (1.0 / carried_of_share(share) - 1.0)))
    };
    let by_name = |c: &BagClub| {
        let share = usual_share(&c.name)?;
        Some((share, total(c, share.max(0.2))? / share))
    };
    let known: Vec<(f64, f64)> = clubs.iter().filter_map(by_name).collect();
    if let Some((_, drive)) = known.iter().find(|(share, _)| *share >= 1.0) {
        return *drive;
    }
    if known.is_empty() {
        let longest = clubs.iter().filter_map(|c| total(c, 1.0)).fold(0.0, f64::max);
        return if longest > 0.0 { longest } else { skill.drive };
    }
    known.iter().map(|(_, drive)| drive).sum::<f64>() / known.len() as f64
}

/// A carry that is given.
struct Rung {
    /// The share of the drive that a club of its name usually goes.
    share: f64,
    carry: f64,
    /// Carry and run, the run assumed where it is not given.
    total: f64,
}

/// The carries given, from the shortest club.
fn ladder(clubs: &[BagClub]) -> Vec<Rung> {
    let rung = |c: &BagClub| {
        let (share, carry) = (usual_share(&c.name)?, c.carry?);
        Some(Rung {
            share,
            carry,
            total: carry + c.run.unwrap_or_else(|| carry * (1.0 / carried_of_share(share) - 1.0)),
        })
    };
    let mut known: Vec<Rung> = clubs.iter().filter_map(rung).collect();
    known.sort_by(|a, b| a.share.total_cmp(&b.share).then(a.carry.total_cmp(&b.carry)));
    known
}

/// The carry of a club that usually goes this share of `drive`, between the carries given of its neighbours; beyond the last of them in
/// proportion to its length. `None` when none is given.
fn between(ladder: &[Rung], share: f64, drive: f64) -> Option<f64> {
    let above = ladder.partition_point(|rung| rung.share < share);
    match (above.checked_sub(1).and_then(|i| ladder.get(i)), ladder.get(above)) {
        (Some(low), Some(high)) => {
            Some(low.carry + (high.carry - low.carry) * (share - low.share) / (high.share - low.share).max(1e-9))
        }
        (None, Some(nearest)) | (Some(nearest), None) => {
            let total = nearest.total * share / nearest.share.max(0.2);
            Some(total * carried_share(total, drive))
        }
        (None, None) => None,
    }
}

fn fill(club: &BagClub, own: &Skill, ladder: &[Rung], remarks: &mut Vec<Remark>) -> Option<Club> {
    let share = usual_share(&club.name);
    let carry = match (club.carry, share) {
        (Some(carry), _) => carry,
        (None, Some(share)) => between(ladder, share, own.drive).filter(|_| share < 1.0).unwrap_or_else(|| {
            let total = share * own.drive;
            total * carried_share(total, own.drive)
        }),
        (None, None) => {
            remarks.push(Remark::UnknownClub(club.name.clone()));
            return None;
        }
    };
    let run = club.run.unwrap_or_else(|| {
        let about = carry / 0.93;
        carry * (1.0 / carried_share(about, own.drive) - 1.0)
    });
    let total = carry + run;
    let tee = super::lie::widening(super::Lie::Tee, own, total);
    let usual_wide = TWO_IN_THREE * tee * own.across_spread(total);
    let usual_deep = TWO_IN_THREE * tee * own.along_spread(total);
    let (wide, deep) = boxed(club, total, own, remarks);
    Some(Club {
        name: club.name.clone(),
        carry,
        run,
        curve: club.curve.unwrap_or(0.0),
        wide: wide.unwrap_or(usual_wide),
        deep: deep.unwrap_or(usual_deep),
        lean: club.lean.unwrap_or(0.0),
        mishits: club.mishits.unwrap_or(own.mishit),
        driver: share.is_some_and(|s| s >= 1.0),
        carry_from: source(club.carry),
        run_from: source(club.run),
        curve_from: source(club.curve),
        box_from: source(wide.and(deep)),
        mishits_from: source(club.mishits),
    })
}

/// The given box where it can be believed; a side that is not is left to be assumed.
fn boxed(club: &BagClub, total: f64, own: &Skill, remarks: &mut Vec<Remark>) -> (Option<f64>, Option<f64>) {
    let like = |skill: Skill| Skill { drive: own.drive, ..skill };
    let tour = like(Skill::tour(own.card));
    let widest = like(Skill::of_index(super::skill::HIGHEST_INDEX, own.card));
    let mut side = |given: Option<f64>, tightest: f64, widest: f64| {
        let size = given?;
        if size < 0.5 * tightest {
            remarks.push(Remark::NoSpread(club.name.clone()));
            None
        } else if size > 3.0 * widest {
            remarks.push(Remark::WideSpread(club.name.clone()));
            Some(3.0 * widest)
        } else {
            Some(size)
        }
    };
    let wide = side(club.wide, TWO_IN_THREE * tour.across_spread(total), TWO_IN_THREE * widest.across_spread(total));
    let deep = side(club.deep, TWO_IN_THREE * tour.along_spread(total), TWO_IN_THREE * widest.along_spread(total));
    (wide, deep)
}

fn source<T>(given: Option<T>) -> Source {
    if given.is_some() { Source::Given } else { Source::Assumed }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::course::Card;

    #[test]
    fn an_empty_bag_is_assumed_and_said() {
        let skill = Skill::of_index(14.6, Card::Men);
        let (drive, clubs, remarks) = complete(&Bag::default(), &skill);
        assert_eq!(drive, skill.drive);
        assert_eq!(clubs.len(), 13);
        assert_eq!(remarks, vec![Remark::EmptyBag]);
        assert!(clubs.iter().all(|c| c.carry_from == Source::Assumed));
        assert!((clubs[0].total() - drive).abs() < 1.0);
    }

    #[test]
    fn the_driver_given_scales_what_is_missing() {
        let skill = Skill::of_index(14.6, Card::Men);
        let bag = Bag {
            clubs: vec![
                BagClub { name: "driver".into(), carry: Some(214.0), run: Some(18.0), ..BagClub::default() },
                BagClub { name: "7 iron".into(), ..BagClub::default() },
            ],
            swings: Vec::new(),
        };
        let (drive, clubs, _) = complete(&bag, &skill);
        assert_eq!(drive, 232.0);
        assert!((clubs[1].total() - 0.67 * 232.0).abs() < 1.5);
        assert_eq!(clubs[0].carry_from, Source::Given);
    }

    /// Course Rating: of a drive nine tenths are carried (225 + 25), so a carry alone means a drive of its tenth more ninth.
    #[test]
    fn a_carry_without_its_run_means_the_drive_that_it_is_nine_tenths_of() {
        let skill = Skill::of_index(28.4, Card::Women);
        for (name, carry, drive) in [("driver", 137.0, 152.2), ("7 iron", 120.0, 191.0)] {
            let club = BagClub { name: name.into(), carry: Some(carry), ..BagClub::default() };
            let bag =
                Bag { clubs: vec![club, BagClub { name: "3 wood".into(), ..BagClub::default() }], swings: Vec::new() };
            let (found, clubs, _) = complete(&bag, &skill);
            assert!((found - drive).abs() < 1.0, "{name} {found}");
            let wood = clubs.iter().find(|c| c.name == "3 wood").unwrap();
            assert!((wood.total() - 0.92 * drive).abs() < 2.5, "{name} {}", wood.total());
        }
    }

    /// A missing carry lies between those given of its neighbours, wherever the drive would put it.
    #[test]
    fn a_missing_carry_is_between_its_neighbours() {
        let skill = Skill::of_index(14.6, Card::Men);
        let club = |name: &str, carry: Option<f64>| BagClub { name: name.into(), carry, ..BagClub::default() };
        let bag = |clubs: Vec<BagClub>| complete(&Bag { clubs, swings: Vec::new() }, &skill).1;
        // A short driver with long irons: from the drive alone the 6 iron would carry less than the 7 iron.
        let clubs = bag(vec![
            club("driver", Some(180.0)),
            club("5 iron", Some(160.0)),
            club("6 iron", None),
            club("7 iron", Some(140.0)),
            club("sand wedge", None),
        ]);
        let carry = |name: &str| clubs.iter().find(|c| c.name == name).map(|c| (c.carry, c.carry_from)).unwrap();
        assert!((carry("6 iron").0 - 150.0).abs() < 0.1, "{:?}", carry("6 iron"));
        assert_eq!(carry("6 iron").1, Source::Assumed);
        // Beyond the last given, in proportion to it: 0.395 / 0.67 of the 7 iron, about.
        assert!((carry("sand wedge").0 - 83.0).abs() < 2.0, "{:?}", carry("sand wedge"));
        let names: Vec<&str> = clubs.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["driver", "5 iron", "6 iron", "7 iron", "sand wedge"]);
    }

    proptest::proptest! {
        /// Whatever carries are given in falling order, those filled in keep the order.
        #[test]
        fn filled_in_carries_keep_the_order(
            carries in proptest::collection::vec(proptest::option::of(0.0..1.0_f64), 13),
            longest in 120.0..300.0_f64,
        ) {
            let skill = Skill::of_index(20.0, Card::Women);
            let mut left = longest;
            let clubs = ASSUMED.iter().zip(&carries).map(|((name, _), step)| {
                left *= 0.96;
                let carry = step.map(|step| { left *= 1.0 - 0.1 * step; left });
                BagClub { name: (*name).into(), carry, ..BagClub::default() }
            });
            let (_, filled, _) = complete(&Bag { clubs: clubs.collect(), swings: Vec::new() }, &skill);
            let of = |name: &str| filled.iter().find(|c| c.name == name).map(|c| c.carry).unwrap();
            for pair in ASSUMED.windows(2).skip(1) {
                proptest::prop_assert!(of(pair[0].0) >= of(pair[1].0) - 1e-9, "{} {}", pair[0].0, pair[1].0);
            }
        }
    }

    #[test]
    fn names_say_lengths() {
        for (name, share) in
            [("Driver", 1.0), ("3w", 0.92), ("7i", 0.67), ("PW", 0.53), ("56°", 0.402), ("4 iron", 0.82)]
        {
            let got = usual_share(name).unwrap();
            assert!((got - share).abs() < 0.03, "{name} {got}");
        }
        assert_eq!(usual_share("old faithful"), None);
    }

    #[test]
    fn numbers_that_nobody_has_are_refused() {
        let skill = Skill::of_index(10.0, Card::Men);
        let club = |name: &str| BagClub {
            name: name.into(),
            carry: Some(200.0),
            wide: Some(0.0),
            deep: Some(900.0),
            mishits: Some(7.0),
            ..BagClub::default()
        };
        let mut odd = club("5 wood");
        odd.carry = Some(f64::NAN);
        let (_, clubs, remarks) = complete(
            &Bag { clubs: vec![club("driver"), odd, club("putter"), club("thing")], swings: Vec::new() },
            &skill,
        );
        assert!(clubs.iter().all(|c| c.wide > 5.0 && c.deep < 400.0 && c.mishits < 0.2 && c.carry.is_finite()));
        assert!(remarks.iter().any(|r| matches!(r, Remark::NoSpread(_))));
        assert!(clubs.iter().all(|c| c.box_from == Source::Assumed), "a box that is not believed is not given");
        assert!(remarks.iter().any(|r| matches!(r, Remark::WideSpread(_))));
        assert!(remarks.iter().any(|r| matches!(r, Remark::Implausible { what: "carry", .. })));
        assert!(remarks.iter().all(|r| !r.to_string().is_empty()));
    }
}
