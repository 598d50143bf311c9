//! Closing the furrow.

use super::super::finding::Evidence;
use super::super::reading::{Closure, Wall};
use super::super::scene::Scene;

pub(in super::super) fn too_mild(scene: &Scene<'_>) -> Option<Evidence> {
    let open = scene.closures(Closure::Open);
    let crumbly = scene.walls(Wall::Crumbly);
    let standing = crumbly.of > 0 && !crumbly.most();
    if !(open.agreed() && standing) {
        return None;
    }
    Some(
        Evidence::default()
            .pro(format!("the furrow stays open {}", open.words()))
            .pro("its walls stand smooth instead of crumbling")
            .con_if(scene.shallow(), "seed lies shallow: closing wheels work best near 2 in"),
    )
}

pub(in super::super) fn off_centre(scene: &Scene<'_>) -> Option<Evidence> {
    let open = scene.closures(Closure::Open);
    let crumbly = scene.walls(Wall::Crumbly);
    let standing = crumbly.of > 0 && !crumbly.most();
    if !open.any() || (open.agreed() && standing) {
        return None;
    }
    Some(
        Evidence::default()
            .pro(format!("the furrow stays open {}", open.words()))
            .pro_if(crumbly.most(), "its walls crumble")
            .con_if(crumbly.of == 0, "nobody looked at the walls")
            .on(open.rows_if_few()),
    )
}

pub(in super::super) fn too_hard(scene: &Scene<'_>) -> Option<Evidence> {
    let packed = scene.closures(Closure::OverPacked);
    if !packed.agreed() {
        return None;
    }
    let wet = scene.soil_wet() == Some(true);
    let crumbly = scene.walls(Wall::Crumbly);
    Some(
        Evidence::default()
            .pro(format!("the soil over the seed is packed or crusted {}", packed.words()))
            .pro_if(wet, "the field report says that the soil is wet")
            .con_if(
                crumbly.most(),
                "the wall of the furrow crumbles, so the soil bears the wheels",
            ),
    )
}
