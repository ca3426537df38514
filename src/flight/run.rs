//! Bounce, skid and roll after the landing, on named grounds.

use super::air::GRAVITY_M_S2;
use super::ball::BALL_RADIUS_M;
use super::trajectory::Landing;
use super::vector::V3;

/// Draw-back longer than this is never shown: the model draws back on soft greens where it was seen on a firm one.
pub const MAX_SHOWN_DRAW_BACK_M: f64 = 3.0;

/// A hop lower than this ends the hopping, m (Penner 2002, p. 935).
const LOWEST_HOP_M: f64 = 0.005;

/// A hop count no ball reaches.
const MOST_HOPS: usize = 60;

/// Step of the skid and the roll, s.
const ROLL_STEP_S: f64 = 0.01;

/// A ball that still rolls after this time is on a slope that does not stop it.
const LONGEST_ROLL_S: f64 = 60.0;

/// What the ball lands on. The firmness words are those of a day sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Size of the crater against the reference impact of Penner 2002.
    pub crater: f64,
    /// Resistance to rolling: deceleration is 5/7 of this times gravity.
    pub rolling: f64,
    /// Share of the speed along the ground, and of the spin, that each contact takes.
    pub grass: f64,
    /// Sliding friction.
    pub friction: f64,
    /// Factor on the restitution of Penner 2002.
    pub bounce: f64,
}

impl Ground {
    const fn new(crater: f64, rolling: f64, grass: f64, friction: f64, bounce: f64) -> Ground {
        Ground { crater, rolling, grass, friction, bounce }
    }

    /// Fairway, soft.
    pub const FAIRWAY_SOFT: Ground = Ground::new(1.10, 0.30, 0.22, 0.40, 0.8);
    /// Fairway, medium: calibrated on 20 yards of tee-shot roll, the Course Rating default.
    pub const FAIRWAY_MEDIUM: Ground = Ground::new(0.70, 0.25, 0.15, 0.40, 1.0);
    /// Fairway, firm.
    pub const FAIRWAY_FIRM: Ground = Ground::new(0.55, 0.20, 0.10, 0.40, 1.0);
    /// Fairway, baked.
    pub const FAIRWAY_BAKED: Ground = Ground::new(0.40, 0.15, 0.06, 0.40, 1.0);
    /// Rough.
    pub const ROUGH: Ground = Ground::new(1.20, 0.90, 0.45, 0.50, 0.7);
    /// Putting green, soft, Stimp 9.
    pub const GREEN_SOFT: Ground = Ground::new(1.40, 0.0868, 0.10, 0.40, 0.7);
    /// Putting green, medium, Stimp 10.
    pub const GREEN_MEDIUM: Ground = Ground::new(1.10, 0.0783, 0.08, 0.40, 1.0);
    /// Putting green, firm, Stimp 11.
    pub const GREEN_FIRM: Ground = Ground::new(0.80, 0.0711, 0.04, 0.40, 1.0);

    /// The same ground at a green speed: rolling resistance 0.784 / Stimp (Penner 2002 with the Stimpmeter release).
    pub fn at_stimp(self, stimp_ft: f64) -> Ground {
        Ground { rolling: 0.784 / stimp_ft.clamp(3.0, 20.0), ..self }
    }
}

/// How hard the ground is, in the words of a day sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Firmness {
    /// Soft.
    Soft,
    /// Medium.
    #[default]
    Medium,
    /// Firm.
    Firm,
    /// Baked; greens are then firm.
    Baked,
}

/// A ground with a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamedGround {
    /// Fairway of a firmness.
    Fairway(Firmness),
    /// Rough.
    Rough,
    /// Putting green of a firmness.
    Green(Firmness),
}

impl NamedGround {
    /// Every ground that differs, in table order.
    pub const ALL: [NamedGround; 8] = [
        NamedGround::Fairway(Firmness::Soft),
        NamedGround::Fairway(Firmness::Medium),
        NamedGround::Fairway(Firmness::Firm),
        NamedGround::Fairway(Firmness::Baked),
        NamedGround::Rough,
        NamedGround::Green(Firmness::Soft),
        NamedGround::Green(Firmness::Medium),
        NamedGround::Green(Firmness::Firm),
    ];

    /// Its constants.
    pub const fn ground(self) -> Ground {
        match self {
            NamedGround::Fairway(Firmness::Soft) => Ground::FAIRWAY_SOFT,
            NamedGround::Fairway(Firmness::Medium) => Ground::FAIRWAY_MEDIUM,
            NamedGround::Fairway(Firmness::Firm) => Ground::FAIRWAY_FIRM,
            NamedGround::Fairway(Firmness::Baked) => Ground::FAIRWAY_BAKED,
            NamedGround::Rough => Ground::ROUGH,
            NamedGround::Green(Firmness::Soft) => Ground::GREEN_SOFT,
            NamedGround::Green(Firmness::Medium) => Ground::GREEN_MEDIUM,
            NamedGround::Green(Firmness::Firm | Firmness::Baked) => Ground::GREEN_FIRM,
        }
    }
}

/// Grade of the ground where the ball lands: rise along and to the right of the line of play, as ratios.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Slope {
    /// Rise along the line of play.
    pub along: f64,
    /// Rise to the right of the line of play.
    pub right: f64,
}

impl Slope {
    /// Level ground.
    pub const LEVEL: Slope = Slope { along: 0.0, right: 0.0 };
}

/// Where the ball goes after it lands, measured from where it landed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Along the line of play, m; negative comes back.
    pub run_m: f64,
    /// To the right of the line of play, m.
    pub side_m: f64,
    /// Number of hops.
    pub hops: usize,
    /// False when the slope does not stop the ball: the figures then say where it was last seen.
    pub stops: bool,
}

/// A run in words, which is how it is shown on greens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RunWords {
    /// Within a metre, either way.
    Stops,
    /// Under eight metres.
    ShortRun,
    /// Longer.
    LongRun,
}

impl Run {
    /// The run as it may be shown: draw-back is held to [`MAX_SHOWN_DRAW_BACK_M`].
    pub fn shown_m(&self) -> f64 {
        self.run_m.max(-MAX_SHOWN_DRAW_BACK_M)
    }

    /// The run in words. Draw-back is no prediction of this model, so it is "stops".
    pub fn words(&self) -> RunWords {
        match self.run_m {
            m if m < 1.0 => RunWords::Stops,
            m if m < 8.0 => RunWords::ShortRun,
            _ => RunWords::LongRun,
        }
    }
}

/// Restitution of turf at a normal impact speed.
///
/// # References
/// Penner 2002, "The run of a golf ball", Can. J. Phys. 80, p. 933, eq. 5.
pub fn restitution(normal_m_s: f64) -> f64 {
    if normal_m_s > 20.0 { 0.120 } else { 0.510 - 0.0375 * normal_m_s + 0.000903 * normal_m_s * normal_m_s }
}

/// One impact in figures, for checks against the published one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Impulse {
    /// Tilt of the crater's wall, degrees.
    pub tilt_deg: f64,
    /// Speed into the tilted surface, m/s.
    pub normal_m_s: f64,
    /// Restitution used.
    pub restitution: f64,
}

/// The impact of a ball at a speed and an angle from the normal, without grass.
pub fn impact(speed_m_s: f64, from_normal_deg: f64, ground: &Ground) -> Impulse {
    let (s, c) = libm::sincos(from_normal_deg.to_radians());
    let v = V3::new(speed_m_s * s, 0.0, -speed_m_s * c);
    bounce(v, V3::ZERO, V3::new(0.0, 0.0, 1.0), ground).2
}

/// # References
/// Penner 2002, p. 933, eqs 2 to 5. The crater angle equals his at his reference impact (18.6 m/s, 44.4 degrees, 15.4
/// degrees) and goes with the normal speed elsewhere, because his printed form makes run rise and fall with crater size;
/// `grass` is ours too. Both are named in `docs/physics.md`.
fn bounce(v: V3, spin: V3, normal: V3, ground: &Ground) -> (V3, V3, Impulse) {
    let into = -v.dot(normal);
    let speed = v.length();
    let along = (v + normal * into).unit();
    let phi = libm::acos((into / speed.max(1e-12)).clamp(-1.0, 1.0));
    let tilt =
        (ground.crater * 15.4_f64.to_radians() * (into / 13.29) * (phi / 44.4_f64.to_radians())).clamp(0.0, 0.6 * phi);
    let (s, c) = libm::sincos(tilt);
    let n = normal * c - along * s;
    let vn = -v.dot(n);
    let vt = v + n * vn;
    let e = restitution(vn) * ground.bounce;
    let slip = vt + spin.cross(n * -BALL_RADIUS_M);
    let dv = (2.0 / 7.0 * slip.length()).min(ground.friction * (1.0 + e) * vn);
    let way = slip.unit();
    let keep = 1.0 - ground.grass;
    let after = (vt - way * dv) * keep + n * (e * vn);
    let spin = spin + n.cross(way) * (dv / (0.4 * BALL_RADIUS_M));
    (after, spin * keep, Impulse { tilt_deg: tilt.to_degrees(), normal_m_s: vn, restitution: e })
}

/// Lets the ball bounce, skid and roll to rest on a slope.
pub fn run(landing: &Landing, ground: &Ground, slope: Slope) -> Run {
    // y is left, so a rise to the right is a fall to the left.
    let normal = V3::new(-slope.along, slope.right, 1.0).unit();
    let gravity = V3::new(0.0, 0.0, -GRAVITY_M_S2);
    let press = -gravity.dot(normal);
    let mut v = landing.velocity;
    let mut spin = landing.axis * landing.spin_rad_s();
    let mut place = V3::ZERO;
    let mut hops = 0;
    while hops < MOST_HOPS {
        let (after, spun, _) = bounce(v, spin, normal, ground);
        spin = spun;
        v = after;
        let up = v.dot(normal);
        if up * up / (2.0 * press) < LOWEST_HOP_M {
            break;
        }
        let t = 2.0 * up / press;
        place = place + v * t + gravity * (0.5 * t * t);
        v = v + gravity * t;
        hops += 1;
    }
    v = v - normal * v.dot(normal);
    let (rolled, stops) = skid_and_roll(v, spin, normal, ground);
    place = place + rolled;
    Run { run_m: place.x, side_m: -place.y, hops, stops }
}

/// On the level the slip keeps its direction, so skid and roll are closed forms.
fn level_skid_and_roll(v: V3, spin: V3, normal: V3, ground: &Ground) -> V3 {
    let slip = v + spin.cross(normal * -BALL_RADIUS_M);
    let rub = ground.friction * GRAVITY_M_S2;
    let t = slip.length() / (3.5 * rub);
    let way = slip.unit();
    let skid = v * t - way * (0.5 * rub * t * t);
    let v = v - way * (rub * t);
    skid + v * (v.length() / (2.0 * 5.0 / 7.0 * ground.rolling * GRAVITY_M_S2))
}

fn skid_and_roll(mut v: V3, mut spin: V3, normal: V3, ground: &Ground) -> (V3, bool) {
    let gravity = V3::new(0.0, 0.0, -GRAVITY_M_S2);
    let press = -gravity.dot(normal);
    let downhill = gravity + normal * press;
    if downhill.length() < 1e-12 {
        return (level_skid_and_roll(v, spin, normal, ground), true);
    }
    let mut place = V3::ZERO;
    let mut left = LONGEST_ROLL_S;
    let rub = ground.friction * press;
    let mut slip = v + spin.cross(normal * -BALL_RADIUS_M);
    // Sliding friction changes the slip by 7/2 of the speed it takes, so the grip comes after slip / (7/2 rub).
    while slip.length() > 1e-6 && left > 0.0 {
        let dt = ROLL_STEP_S.min(slip.length() / (3.5 * rub));
        let way = slip.unit();
        let a = downhill - way * rub;
        place = place + v * dt + a * (0.5 * dt * dt);
        v = v + a * dt;
        spin = spin + normal.cross(way) * (rub * dt / (0.4 * BALL_RADIUS_M));
        slip = v + spin.cross(normal * -BALL_RADIUS_M);
        left -= dt;
        if slip.dot(way) <= 0.0 {
            break;
        }
    }
    let drag = 5.0 / 7.0 * ground.rolling * press;
    let pull = downhill * (5.0 / 7.0);
    while left > 0.0 {
        let speed = v.length();
        if speed < 1e-9 {
            if pull.length() <= drag {
                return (place, true);
            }
            v = pull.unit() * 1e-6;
            continue;
        }
        let a = pull - v.unit() * drag;
        let brake = -a.dot(v.unit());
        let mut dt = ROLL_STEP_S;
        if brake > 0.0 && speed / brake < dt {
            dt = speed / brake;
            place = place + v * dt + a * (0.5 * dt * dt);
            if pull.length() <= drag {
                return (place, true);
            }
            v = pull.unit() * 1e-6;
            left -= dt;
            continue;
        }
        place = place + v * dt + a * (0.5 * dt * dt);
        v = v + a * dt;
        left -= dt;
    }
    (place, false)
}
