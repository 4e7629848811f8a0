//! A clock face as a drawing: what faces where, seen with the capped pen's finial end towards you.

use super::drawing::{Drawing, MM, Mark, Point, Shade, Stroke, at};
use super::font::Face;
use super::plain::Plain;
use crate::units::ClockPosition;

/// From the middle to the rim.
const RADIUS: f32 = 18.0 * MM;

/// Room round the face for the names of the marks.
const SIDE: f32 = 60.0;

/// Room above and below it.
const ABOVE: f32 = 20.0;

/// The size of its type.
const SIZE: f32 = 12.0;

/// How far apart names stand that are on one side, one under the other.
const APART: f32 = SIZE * 1.2;

/// Returns a clock face with these marks, each with its name beside it; without marks, one to pencil them on.
///
/// ```
/// use stepjig::sheet::{clock_figure, svg};
///
/// let face = clock_figure::draw(&[("clip", "4 o'clock".parse()?)]);
/// assert!(svg::render(&face).contains(">clip</text>"));
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn draw(marks: &[(&str, ClockPosition)]) -> Drawing {
    let middle = at(SIDE + RADIUS, ABOVE + RADIUS);
    let mut drawn = vec![Mark::Circle {
        centre: middle,
        radius: RADIUS,
        fill: Some(Shade::White),
        stroke: Some(Stroke::black(1.2)),
    }];
    for hour in 0..12_u8 {
        let degrees = f64::from(hour) * 30.0;
        let from = if hour.is_multiple_of(3) { 0.86 } else { 0.92 };
        drawn.push(line([on(middle, degrees, from), on(middle, degrees, 1.0)], 1.0));
        if hour.is_multiple_of(3) {
            let numeral = if hour == 0 { "12".to_owned() } else { hour.to_string() };
            let place = on(middle, degrees, 0.7);
            drawn.push(Mark::centred(at(place.x, place.y + SIZE * 0.36), SIZE, Face::Regular, &numeral));
        }
    }
    // A cross in the middle, to lay a rule on.
    drawn.push(line([at(middle.x - 4.0, middle.y), at(middle.x + 4.0, middle.y)], 0.8));
    drawn.push(line([at(middle.x, middle.y - 4.0), at(middle.x, middle.y + 4.0)], 0.8));
    let mut names = Names::default();
    for (name, position) in marks {
        let degrees = position.minutes() / 2.0;
        drawn.push(line([on(middle, degrees, 0.2), on(middle, degrees, 1.0)], 2.4));
        drawn.push(Mark::Circle {
            centre: on(middle, degrees, 1.0),
            radius: 3.0,
            fill: Some(Shade::Black),
            stroke: None,
        });
        drawn.push(names.place(on(middle, degrees, 1.14), middle.x, name));
    }
    let names: Vec<String> = marks.iter().map(|(name, position)| format!("{name} at {}", position.figures())).collect();
    let title = match names.is_empty() {
        true => "A clock face to pencil marks on".to_owned(),
        false => format!("A clock face: {}", names.join(", ")),
    };
    Drawing { width: 2.0 * (SIDE + RADIUS), height: 2.0 * (ABOVE + RADIUS), title: Plain::new(&title), marks: drawn }
}

/// Returns the place at so many degrees on from 12 and so much of the radius from the middle.
fn on(middle: Point, degrees: f64, of_radius: f32) -> Point {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    at(middle.x + RADIUS * of_radius * sine as f32, middle.y - RADIUS * of_radius * cosine as f32)
}

fn line(points: [Point; 2], width: f32) -> Mark {
    Mark::Line { points: points.into(), stroke: Stroke::black(width) }
}

/// Where names stand already, so that none stands on another.
#[derive(Default)]
struct Names(Vec<(bool, f32)>);

impl Names {
    /// Puts a name at its place outside the rim, left or right of it, or under the names that stand there.
    fn place(&mut self, wanted: Point, middle: f32, name: &str) -> Mark {
        let right = wanted.x >= middle - 0.5;
        let mut y = wanted.y + SIZE * 0.36;
        while self.0.iter().any(|(side, taken)| *side == right && (taken - y).abs() < APART) {
            y += APART;
        }
        self.0.push((right, y));
        let width = Face::Bold.width(Plain::new(name).as_str(), SIZE);
        let x = if right { wanted.x } else { wanted.x - width };
        Mark::words(at(x, y), SIZE, Face::Bold, name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(drawing: &Drawing, name: &str) -> Point {
        let words = drawing.marks.iter().find_map(|mark| match mark {
            Mark::Words { at, words, .. } if words.as_str() == name => Some(*at),
            _ => None,
        });
        words.expect("the name is there")
    }

    /// Twelve is up and three is right, as on any clock.
    #[test]
    fn marks_stand_where_a_clock_has_them() {
        let marks = [("up", 12), ("right", 3), ("down", 6), ("left", 9)];
        let marks = marks.map(|(name, hour)| (name, format!("{hour} o'clock").parse().expect("a place")));
        let drawing = draw(&marks);
        let middle = at(drawing.width / 2.0, drawing.height / 2.0);
        assert!(places(&drawing, "up").y < middle.y - RADIUS);
        assert!(places(&drawing, "down").y > middle.y + RADIUS);
        assert!(places(&drawing, "right").x > middle.x + RADIUS);
        assert!(places(&drawing, "left").x < middle.x - RADIUS);
    }

    #[test]
    fn names_in_one_place_stand_one_under_the_other() {
        let here: ClockPosition = "2:30".parse().expect("a place");
        let drawing = draw(&[("nib", here), ("clip", here)]);
        assert!((places(&drawing, "nib").y - places(&drawing, "clip").y).abs() >= APART - 0.01);
    }
}
