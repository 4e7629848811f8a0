//! A number that is refused ends with what to type, and what it says to type is taken.

use super::home::Home;
use super::verb::said;

#[test]
fn a_refused_number_ends_with_what_to_type() {
    let home = Home::new("draft-what-to-type");
    let told = said(&home.run(&["draft", "raffle"], "two\ntwist\nballpoint refill\n6.9\n99 mm\nwide\n6,9 mm\n"));
    for end in [
        "6.9 mm or 6.9 in? say which; type it as `6.9 mm`, or `not known` to fill it in later.",
        "it is from 6 mm to 16 mm, such as 9.92 mm, 25/64 in or .391 in; `not known` leaves it to be filled in later.",
        "type it as `6.9 mm`, or `not known`",
    ] {
        assert!(told.contains(end), "{end}: {told}");
    }
    for (given, end) in [
        ("bushing=13", "give it as `bushing=13mm`"),
        ("bushing=wide", "give it as `bushing=10mm`"),
        ("bushing=9900mm", "give it as `bushing=10mm`"),
        ("bushing=13,1mm", "give it as `bushing=13.1mm`"),
    ] {
        let refused = home.run(&["reckon", "wall", given, "hole=7mm"], "");
        let told = said(&refused);
        assert!(refused.status.code() == Some(2) && told.trim_end().ends_with(end), "{given}: {told}");
        // What is told to be typed is taken.
        let taken = end.trim_start_matches("give it as ").trim_matches('`');
        let again = home.run(&["reckon", "wall", taken, "hole=7mm"], "");
        assert_ne!(again.status.code(), Some(2), "{taken}: {}", said(&again));
    }
}

/// Whatever an input is, what is shown as an example of it reads.
#[test]
fn an_example_of_each_input_reads() {
    let mut n_inputs = 0;
    for reckoning in stepjig::reckon::ALL {
        for input in reckoning.inputs {
            let read = input.read(&input.example(), None);
            assert!(read.is_ok(), "{} of {}: {read:?}", input.name, reckoning.name);
            n_inputs += 1;
        }
    }
    assert!(n_inputs > 40, "{n_inputs}");
}
