//! What `thread-stop` asks for.

use super::super::input::{Input, Kind, Usual};
use super::super::{Asking, Fork, Way};
use super::say::WITHOUT_A_SUM;
use super::thread::MOST_STARTS;

/// In the order a prompt asks: the first two decide what the answer is about.
pub(super) const INPUTS: &[Input] = &[
    Input {
        name: "touches",
        kind: Kind::Choice(&["metal", "wood"]),
        meaning: "what touches when the cap is tight: metal on metal, or the band on wood",
        usual: Usual::Text("metal"),
    },
    Input {
        name: "clip-over",
        kind: Kind::Choice(&["nib", "figure"]),
        meaning: "what the clip stands over: the nib as the cap goes on, or the best figure when closed; rarely both",
        usual: Usual::Text("nib"),
    },
    Input {
        name: "let-go",
        kind: Kind::Clock,
        meaning: "where the cap's grain mark is when the threads let go, opened from tight; tight, on its mark, is 12 \
                  o'clock (else type travel=5.2 mm, or turns=1.25)",
        usual: Usual::Asked,
    },
    Input {
        name: "travel",
        kind: Kind::Length { least: 0.05, most: 40.0 },
        meaning: "how far the cap moves along the pen from first catch to its stop",
        usual: Usual::Asked,
    },
    Input {
        name: "turns",
        kind: Kind::Turns { least: 0.05, most: 20.0 },
        meaning: "the turns from first catch to the stop; an eighth of a turn wrong is 45°",
        usual: Usual::Asked,
    },
    Input {
        name: "starts",
        kind: Kind::Count { least: 1, most: MOST_STARTS },
        meaning: "how many thread ends run out at the mouth",
        usual: Usual::Asked,
    },
    Input {
        name: "lead",
        kind: Kind::Length { least: 0.05, most: 20.0 },
        meaning: "how far one full turn moves the cap: travel over counted turns (else type pitch=0.8 mm starts=3)",
        usual: Usual::Asked,
    },
    Input {
        name: "pitch",
        kind: Kind::Length { least: 0.05, most: 4.0 },
        meaning: "from one thread crest to the next, as a pitch gauge reads it",
        usual: Usual::Asked,
    },
    Input {
        name: "nib",
        kind: Kind::Clock,
        meaning: "where the top of the nib points, from the body's grain mark",
        usual: Usual::Text("12:00"),
    },
    Input {
        name: "diameter",
        kind: Kind::Length { least: 3.0, most: 60.0 },
        meaning: "the cap's diameter at the clip",
        usual: Usual::Asked,
    },
    Input {
        name: "lead-in",
        kind: Kind::Angle { least: 0.0, most: 90.0 },
        meaning: "how far past the catch the cap is set on: just at it the next thread start may take it",
        usual: Usual::Practice("thread-stop.lead-in"),
    },
    Input {
        name: "off",
        kind: Kind::Angle { least: -360.0, most: 360.0 },
        meaning: "how far past its mark the cap stops, in the way it closes (clockwise for a right-hand thread); short of \
                  it is negative",
        usual: Usual::Asked,
    },
    Input {
        name: "hand",
        kind: Kind::Choice(&["right", "left"]),
        meaning: "the hand of the thread: right-hand closes clockwise, seen with the finial end towards you",
        usual: Usual::Text("right"),
    },
];

/// The stop is found one way or another, and so is the thread.
pub(super) const ASKING: Asking = Asking {
    also: &["touches", "clip-over", "lead", "diameter"],
    forks: &[
        Fork {
            at: "let-go",
            asks: "How can the stop be found? The surest way comes first.",
            ways: &[
                Way::Given {
                    say: "by the clock: turn the cap back from tight until the threads let go, and read where the cap's \
                          mark stands",
                    inputs: &["let-go"],
                },
                Way::Given { say: "by the travel along the pen, from first catch to the stop", inputs: &["travel"] },
                Way::Given {
                    say: "by turns counted from first catch: an eighth of a turn wrong is 45°",
                    inputs: &["turns"],
                },
                Way::WithoutSum { say: "without a sum, by a mark on the cap", told: WITHOUT_A_SUM },
            ],
        },
        Fork {
            at: "lead",
            asks: "What is known of the thread? It tells what 0.05 mm of seat will do.",
            ways: &[
                Way::Given {
                    say: "its pitch, by a gauge, and the thread ends that run out at the mouth",
                    inputs: &["pitch", "starts"],
                },
                Way::Given { say: "how far one full turn moves the cap", inputs: &["lead"] },
            ],
        },
    ],
    after: Some(
        "Look how it stops when closed. If it is off its mark, say how far past it (short of it is negative): off=40",
    ),
};
