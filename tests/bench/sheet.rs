//! How long a sheet takes: a checklist of 60 steps as text and as PDF, and of 300 steps as PDF.
//!
//! At most 5 times the text and 50 ms for fonts; five times the steps take about five times as long.

use std::time::{Duration, Instant};

use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};
use stepjig::reckon::Data;
use stepjig::sheet::pages::{self, Paper, Reach};
use stepjig::sheet::{Stamp, lay_out, pdf, text};

fn main() {
    let first = Instant::now();
    let small = guide(60);
    let _ = as_pdf(&small);
    println!("the first PDF of the program, fonts read:      {:>9.2?}", first.elapsed());
    let (plain, pdf) = (least(|| as_text(&small)), least(|| as_pdf(&small)));
    let ratio = pdf.as_secs_f64() / plain.as_secs_f64();
    println!("60 steps as text:                              {plain:>9.2?}");
    println!("60 steps as PDF:                               {pdf:>9.2?}, {ratio:.1} times the text");
    let allowed = plain * 5 + Duration::from_millis(50);
    println!("allowed (5 times the text, 50 ms for fonts):   {allowed:>9.2?}");
    let large = least(|| as_pdf(&guide(300)));
    let grown = large.as_secs_f64() / pdf.as_secs_f64();
    println!("300 steps as PDF:                              {large:>9.2?}, {grown:.1} times the 60 steps");
}

fn guide(steps: usize) -> Guide {
    let mut file = String::from("stepjig = 1\n[guide]\nid = \"raffle\"\ntitle = \"Six pens for the raffle\"\n");
    for n in 0..steps {
        file.push_str(&format!(
            "[[step]]\nid = \"s{n}\"\ngauge = \"Measure the piece of pear wood at its thickest place.\"\nunit = \"mm\"\n\
             limits = {{ min = 1, max = 9 }}\nunder = \"s{n}\"\nover = \"s{}\"\ntell = \"Twice, across the grain.\"\n",
            n / 2
        ));
    }
    file.push_str("[[step]]\nid = \"end\"\nend = \"finished\"\n");
    Library::shipped().link(&Source::new("raffle.toml", file)).guide.expect("it links")
}

fn as_text(guide: &Guide) -> usize {
    text::render(&lay_out::checklist(guide, &Data::shipped(), &Stamp::default())).len()
}

fn as_pdf(guide: &Guide) -> usize {
    let sheet = lay_out::checklist(guide, &Data::shipped(), &Stamp::default());
    let pages = pages::set(&sheet, Paper::A4, Reach::Near);
    pdf::render(&sheet, &pages).expect("a PDF").len()
}

fn least(run: impl Fn() -> usize) -> Duration {
    let once = || {
        let begun = Instant::now();
        std::hint::black_box(run());
        begun.elapsed()
    };
    (0..20).map(|_| once()).min().unwrap_or_default()
}
