//! A pose: where the pelvis is, and the angle of every joint.

use crate::body::Side;
use crate::joint::{Freedom, Limb, Middle};
use crate::space::{Frame, Rotation, Vector};

/// Where the pelvis is and the angle of every joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// The pelvis: the point between the hips, and how it is turned.
    pub pelvis: Frame,
    angles_deg: [f64; Freedom::COUNT],
}

impl Pose {
    /// Upright with hanging arms, the hips at the origin.
    pub const UPRIGHT: Self = Self {
        pelvis: Frame {
            at: Vector::ZERO,
            turned: Rotation::NONE,
        },
        angles_deg: [0.0; Freedom::COUNT],
    };

    /// The upright pose with its pelvis elsewhere.
    pub const fn upright_at(pelvis: Frame) -> Self {
        Self {
            pelvis,
            ..Self::UPRIGHT
        }
    }

    /// One angle.
    pub fn angle_deg(&self, freedom: Freedom) -> f64 {
        self.angles_deg[freedom.index()]
    }

    /// One angle of spine or neck.
    pub fn middle_deg(&self, middle: Middle) -> f64 {
        self.angle_deg(Freedom::Middle(middle))
    }

    /// One angle of an arm or a leg.
    pub fn limb_deg(&self, side: Side, limb: Limb) -> f64 {
        self.angle_deg(Freedom::Of(side, limb))
    }

    /// Sets one angle.
    pub fn set_deg(&mut self, freedom: Freedom, angle_deg: f64) {
        self.angles_deg[freedom.index()] = angle_deg;
    }

    /// The same pose in a mirror.
    pub fn mirrored(&self) -> Self {
        let mut other = self.clone();
        other.pelvis = self.pelvis.mirrored();
        for freedom in Freedom::all() {
            let (mirrored, changes_sign) = freedom.mirrored();
            let angle_deg = self.angle_deg(freedom);
            other.set_deg(mirrored, if changes_sign { -angle_deg } else { angle_deg });
        }
        other
    }
}
