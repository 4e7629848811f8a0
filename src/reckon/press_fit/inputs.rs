//! What `press-fit` asks for.

use super::super::DataFile;
use super::super::input::{Input, Kind, Usual};

/// In the order a prompt asks.
pub(super) const INPUTS: &[Input] = &[
    Input {
        name: "part",
        kind: Kind::Length { least: 2.0, most: 40.0 },
        meaning: "the outside of the part that is pressed in",
        usual: Usual::Asked,
    },
    Input {
        name: "tube-in",
        kind: Kind::Length { least: 2.0, most: 40.0 },
        meaning: "the inside of the tube, bare of glue",
        usual: Usual::Asked,
    },
    Input {
        name: "tube-out",
        kind: Kind::Length { least: 2.0, most: 45.0 },
        meaning: "the outside of the tube",
        usual: Usual::Asked,
    },
    Input {
        name: "wood-out",
        kind: Kind::Length { least: 3.0, most: 80.0 },
        meaning: "the outside of the wood there, at its thinnest",
        usual: Usual::Asked,
    },
    Input {
        name: "wood",
        kind: Kind::Name(DataFile::Wood),
        meaning: "the wood, such as `black cherry`; `not sure` takes the weakest listed (else type strength=3.9MPa)",
        usual: Usual::Asked,
    },
    Input {
        name: "strength",
        kind: Kind::Stress { least: 0.2, most: 100.0 },
        meaning: "the wood's tension strength across the grain, `3.9MPa`; it stands before the table's",
        usual: Usual::Asked,
    },
    Input {
        name: "e",
        kind: Kind::Stress { least: 20.0, most: 20_000.0 },
        meaning: "the wood's stiffness across the grain: pen woods are recalled as 0.4 to 2.5 GPa, and no table of it \
                  could be read; take e=0.4GPa, and then e=2.5GPa to see what it changes",
        usual: Usual::Asked,
    },
    Input {
        name: "nu",
        kind: Kind::Number { above: 0.0, most: 0.5 },
        meaning: "the wood's Poisson ratio across the grain",
        usual: Usual::Practice("press-fit.nu"),
    },
    Input {
        name: "part-material",
        kind: Kind::Choice(&["steel", "brass"]),
        meaning: "what the part is made of: a magnet holds steel, the stiffer, which is taken where it is not known",
        usual: Usual::Text("steel"),
    },
    Input {
        name: "length",
        kind: Kind::Length { least: 0.5, most: 100.0 },
        meaning: "how far the part goes in, for the force",
        usual: Usual::Asked,
    },
    Input {
        name: "doubt",
        kind: Kind::Length { least: 0.0, most: 0.5 },
        meaning: "what the caliper may be off by",
        usual: Usual::Practice("press-fit.doubt"),
    },
];
