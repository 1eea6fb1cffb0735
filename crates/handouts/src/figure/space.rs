//! Points in space, in mm, and how they are seen: forward is x, up is y, towards the viewer is z.

/// A point or direction in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct V3 {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) z: f64,
}

pub(super) const fn v(x: f64, y: f64, z: f64) -> V3 {
    V3 { x, y, z }
}

impl V3 {
    pub(super) fn plus(self, other: Self) -> Self {
        v(self.x + other.x, self.y + other.y, self.z + other.z)
    }

    pub(super) fn minus(self, other: Self) -> Self {
        self.plus(other.times(-1.0))
    }

    pub(super) fn times(self, factor: f64) -> Self {
        v(self.x * factor, self.y * factor, self.z * factor)
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    pub(super) fn length(self) -> f64 {
        libm::sqrt(self.dot(self))
    }

    pub(super) fn unit(self) -> Self {
        let length = self.length();
        if length < 1e-9 {
            v(0.0, -1.0, 0.0)
        } else {
            self.times(1.0 / length)
        }
    }

    /// The point a share of the way to another.
    pub(super) fn towards(self, other: Self, share: f64) -> Self {
        self.plus(other.minus(self).times(share))
    }
}

/// From where the person is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Camera {
    /// 26 degrees from the side: for what moves forwards and back.
    Side,
    /// 64 degrees from the side: for what moves sideways.
    Front,
}

/// A point on the paper in mm, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct P2 {
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Camera {
    const fn turn_degrees(self) -> f64 {
        match self {
            Self::Side => 26.0,
            Self::Front => 64.0,
        }
    }

    /// Where a point falls on the paper, seen from 7 degrees above.
    pub(super) fn see(self, point: V3) -> P2 {
        let (sin, cos) = sin_cos(self.turn_degrees());
        let (sin7, cos7) = sin_cos(7.0);
        P2 {
            x: point.x * cos - point.z * sin,
            y: -(point.y * cos7 - self.nearness(point) * sin7),
        }
    }

    /// How near a point is: more is nearer.
    pub(super) fn nearness(self, point: V3) -> f64 {
        let (sin, cos) = sin_cos(self.turn_degrees());
        point.x * sin + point.z * cos
    }
}

/// Sine and cosine of an angle in degrees.
pub(super) fn sin_cos(degrees: f64) -> (f64, f64) {
    let radians = degrees * core::f64::consts::PI / 180.0;
    (libm::sin(radians), libm::cos(radians))
}
