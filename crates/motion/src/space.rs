//! Points, directions and rotations in space.

use core::ops::{Add, Mul, Neg, Sub};

/// A point or a direction, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vector {
    /// Forwards.
    pub x: f64,
    /// To the left.
    pub y: f64,
    /// Upwards.
    pub z: f64,
}

impl Vector {
    /// The origin.
    pub const ZERO: Self = Self::new(0.0, 0.0, 0.0);
    /// One metre forwards.
    pub const FORWARD: Self = Self::new(1.0, 0.0, 0.0);
    /// One metre to the left.
    pub const LEFT: Self = Self::new(0.0, 1.0, 0.0);
    /// One metre upwards.
    pub const UP: Self = Self::new(0.0, 0.0, 1.0);

    /// From its three parts: forwards, left, up.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// The scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// The vector product.
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// The length.
    pub fn length(self) -> f64 {
        libm::sqrt(self.dot(self))
    }

    /// How far the other point is.
    pub fn distance(self, other: Self) -> f64 {
        (self - other).length()
    }

    /// The same direction with length 1; none for something too short to have a direction.
    pub fn direction(self) -> Option<Self> {
        let length = self.length();
        (length > 1e-12).then(|| self * (1.0 / length))
    }

    /// The part of it that is at right angles to a direction of length 1.
    pub fn across(self, direction: Self) -> Self {
        self - direction * self.dot(direction)
    }

    /// Its picture in the plane between left and right.
    pub fn mirrored(self) -> Self {
        Self::new(self.x, -self.y, self.z)
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}

impl Neg for Vector {
    type Output = Self;
    fn neg(self) -> Self {
        self * -1.0
    }
}

/// A rotation: where forward, left and up of something point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotation {
    /// Where its forward points.
    pub forward: Vector,
    /// Where its left points.
    pub left: Vector,
    /// Where its up points.
    pub up: Vector,
}

/// Rotations about left, forward and up, applied in this order from the outside in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turns {
    /// About left: up goes forwards.
    pub about_left_deg: f64,
    /// About forward: left goes up.
    pub about_forward_deg: f64,
    /// About up: forward goes left.
    pub about_up_deg: f64,
}

impl Rotation {
    /// No rotation.
    pub const NONE: Self = Self {
        forward: Vector::FORWARD,
        left: Vector::LEFT,
        up: Vector::UP,
    };

    /// About forward: left goes up.
    pub fn about_forward(angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        Self {
            forward: Vector::FORWARD,
            left: Vector::new(0.0, cos, sin),
            up: Vector::new(0.0, -sin, cos),
        }
    }

    /// About left: up goes forwards.
    pub fn about_left(angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        Self {
            forward: Vector::new(cos, 0.0, -sin),
            left: Vector::LEFT,
            up: Vector::new(sin, 0.0, cos),
        }
    }

    /// About up: forward goes left.
    pub fn about_up(angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        Self {
            forward: Vector::new(cos, sin, 0.0),
            left: Vector::new(-sin, cos, 0.0),
            up: Vector::UP,
        }
    }

    /// The three turns one inside the other.
    pub fn of(turns: Turns) -> Self {
        Self::about_left(turns.about_left_deg)
            .then(Self::about_forward(turns.about_forward_deg))
            .then(Self::about_up(turns.about_up_deg))
    }

    /// The turns that make this rotation, with the one about forward within a quarter turn.
    ///
    /// Where that one is a quarter turn the other two cannot be told apart, and the turn about up is 0.
    pub fn turns(self) -> Turns {
        let sin = -self.up.y;
        if sin.abs() > 1.0 - 1e-12 {
            return Turns {
                about_left_deg: atan2_deg(-self.forward.z, self.forward.x),
                about_forward_deg: 90.0 * sin.signum(),
                about_up_deg: 0.0,
            };
        }
        let cos = libm::hypot(self.up.x, self.up.z);
        Turns {
            about_left_deg: atan2_deg(self.up.x, self.up.z),
            about_forward_deg: atan2_deg(sin, cos),
            about_up_deg: atan2_deg(self.forward.y, self.left.y),
        }
    }

    /// This rotation with another one inside it.
    pub fn then(self, inner: Self) -> Self {
        Self {
            forward: self.apply(inner.forward),
            left: self.apply(inner.left),
            up: self.apply(inner.up),
        }
    }

    /// A direction given inside, seen from outside.
    pub fn apply(self, inner: Vector) -> Vector {
        self.forward * inner.x + self.left * inner.y + self.up * inner.z
    }

    /// The way back.
    pub fn inverse(self) -> Self {
        let row = |part: fn(Vector) -> f64| {
            Vector::new(part(self.forward), part(self.left), part(self.up))
        };
        Self {
            forward: row(|vector| vector.x),
            left: row(|vector| vector.y),
            up: row(|vector| vector.z),
        }
    }

    /// The rotation that its mirror picture has.
    pub fn mirrored(self) -> Self {
        Self {
            forward: self.forward.mirrored(),
            left: -self.left.mirrored(),
            up: self.up.mirrored(),
        }
    }
}

/// Where something is and how it is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Where it is.
    pub at: Vector,
    /// How it is turned.
    pub turned: Rotation,
}

impl Frame {
    /// A point given inside, seen from outside.
    pub fn point(self, inner: Vector) -> Vector {
        self.at + self.turned.apply(inner)
    }

    /// The frame at a point inside, turned further.
    pub fn joined(self, at: Vector, turned: Rotation) -> Self {
        Self {
            at: self.point(at),
            turned: self.turned.then(turned),
        }
    }

    /// Its picture in the plane between left and right.
    pub fn mirrored(self) -> Self {
        Self {
            at: self.at.mirrored(),
            turned: self.turned.mirrored(),
        }
    }
}

/// Sine and cosine of an angle in degrees.
pub fn sin_cos_deg(angle_deg: f64) -> (f64, f64) {
    libm::sincos(angle_deg.to_radians())
}

/// The angle in degrees of a sine and a cosine, or of any two lengths in their ratio.
pub fn atan2_deg(sin: f64, cos: f64) -> f64 {
    libm::atan2(sin, cos).to_degrees()
}

#[cfg(test)]
mod tests {
    use super::{Rotation, Turns, Vector};
    use proptest::prelude::*;

    fn near(a: Vector, b: Vector) -> bool {
        a.distance(b) < 1e-12
    }

    #[test]
    fn a_quarter_turn_moves_the_axes_as_said() {
        assert!(near(Rotation::about_left(90.0).up, Vector::FORWARD));
        assert!(near(Rotation::about_forward(90.0).left, Vector::UP));
        assert!(near(Rotation::about_up(90.0).forward, Vector::LEFT));
    }

    #[test]
    fn at_a_quarter_turn_about_forward_the_turns_still_make_the_rotation() {
        for side in [-90.0, 90.0] {
            let rotation = Rotation::of(Turns {
                about_left_deg: 30.0,
                about_forward_deg: side,
                about_up_deg: 20.0,
            });
            let again = Rotation::of(rotation.turns());
            assert!(near(rotation.forward, again.forward), "{side}");
            assert!(near(rotation.up, again.up), "{side}");
        }
    }

    proptest! {
        #[test]
        fn law_turns_are_found_again_and_the_inverse_undoes_them(
            about_left_deg in -179.0..179.0, about_forward_deg in -89.0..89.0, about_up_deg in -179.0..179.0
        ) {
            let turns = Turns { about_left_deg, about_forward_deg, about_up_deg };
            let rotation = Rotation::of(turns);
            let found = rotation.turns();
            prop_assert!((found.about_left_deg - about_left_deg).abs() < 1e-9);
            prop_assert!((found.about_forward_deg - about_forward_deg).abs() < 1e-9);
            prop_assert!((found.about_up_deg - about_up_deg).abs() < 1e-9);
            let back = rotation.then(rotation.inverse());
            prop_assert!(near(back.forward, Vector::FORWARD) && near(back.left, Vector::LEFT) && near(back.up, Vector::UP));
            let right_handed = rotation.forward.cross(rotation.left);
            prop_assert!(near(right_handed, rotation.up));
            prop_assert!(near(rotation.mirrored().forward.cross(rotation.mirrored().left), rotation.mirrored().up));
        }
    }
}
