//! `walk`: makes a pen, one step at a time, or goes on with one.

use std::path::PathBuf;

use jiff::{SignedDuration, Timestamp};

use super::failure::Failure;
use super::job_folder::{JobFolder, JobName, JobsRoot, Store};
use super::output::Output;
use super::prompt::{Lines, Typed};
use super::settings::{self, Settings};
use super::{Outcome, kit_file, rejoin, screen, shelf};
use crate::finding::Source;
use crate::guide::{EndKind, Guide, Kind, Library, Limits};
use crate::walk::{Answer, Event, Phase, Refusal, Walk, Wanted, clock_said, span_said};

/// Arguments of `walk`.
#[derive(Debug, clap::Args)]
pub(super) struct WalkArguments {
    /// The guide: an id or a path; not needed to go on with a job
    guide: Option<String>,
    /// The job's name; one that exists is gone on with
    #[arg(long, value_name = "NAME")]
    job: Option<String>,
    /// A kit file whose numbers go before the guide's, by path or by the name it was kept under
    #[arg(long, value_name = "FILE")]
    kit: Option<PathBuf>,
    /// Begin with a half-made pen: what is true of it; unnamed, it is asked for
    #[arg(long, value_name = "CONDITION", num_args = 0..)]
    from: Option<Vec<String>>,
    /// Keep the numbers measured on this walk as a kit file of that name
    #[arg(long, value_name = "NAME")]
    save_kit: Option<String>,
}

/// Walks.
pub(super) fn run(arguments: WalkArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let jobs = JobsRoot::new(settings.folders()?.jobs());
    let mut lines = Lines::open(settings)?;
    if let Some(name) = &arguments.save_kit {
        name_of(name)?;
    }
    let job = arguments.job.as_deref().map(name_of).transpose()?;
    let going_on = job.as_ref().filter(|name| jobs.job_path(name).exists());
    let opened = match going_on {
        Some(name) => {
            if arguments.from.is_some() || arguments.kit.is_some() {
                let failure = Failure::usage(format!("the job `{name}` is under way already"));
                return Err(failure.help("leave `--from` and `--kit` out, or give the new pen another name"));
            }
            open(&jobs, name, output)?
        }
        None => begin(&arguments, job.as_ref(), &jobs, settings, &mut lines, output)?,
    };
    let Opened { folder, guide: text, events, last, notes } = opened;
    let guide = Library::empty().with_limits(Limits::default()).link(&Source::new("guide.toml", text)).guide;
    let Some(guide) = guide else {
        return Err(Failure::usage(format!("the guide kept with `{}` cannot be read", folder.name())));
    };
    let walk = Walk::from_events(&guide, &events).in_zone(jiff::tz::TimeZone::system());
    let mut session = Session { walk, folder, lines, output, settings, news: Vec::new() };
    session.greet(notes);
    if going_on.is_some() {
        session.resume(last)?;
    }
    let outcome = session.go();
    session.lines.keep_history(settings);
    if session.walk.state().phase == Phase::Ended {
        let named = arguments.save_kit.clone();
        session.keep_kit(named)?;
    }
    outcome
}

/// A job that is open, with what has happened in it.
struct Opened {
    folder: JobFolder,
    guide: String,
    events: Vec<Event>,
    /// When the last record was written.
    last: Option<Timestamp>,
    /// What was said on opening, to be said again over the first screen.
    notes: Vec<String>,
}

/// Reads a name given on the command line.
fn name_of(name: &str) -> Result<JobName, Failure> {
    name.parse().map_err(|wrong| Failure::usage(format!("{wrong}")).help("use letters, digits and hyphens: `pear-1`"))
}

/// Opens a job to go on with it; one with a damaged journal is refused, and nothing in it is changed.
fn open(jobs: &JobsRoot, name: &JobName, output: &Output) -> Result<Opened, Failure> {
    let job = jobs.open::<Event>(name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let notes: Vec<String> = (job.set_aside.iter())
        .map(|torn| {
            let (record, bytes, kept) = (torn.record, torn.bytes, torn.path.display());
            format!("note: record {record} was cut off while it was written; its {bytes} bytes are kept in {kept}")
        })
        .collect();
    notes.iter().for_each(|note| output.aside(note));
    if job.folder.store() == Store::ReadOnly {
        let damage: Vec<String> = job.damage.iter().map(ToString::to_string).collect();
        let failure = Failure::usage(format!("the journal of `{name}` is damaged: {}", damage.join("; ")));
        return Err(failure
            .help(format!("nothing was changed; the file is {}", job.folder.path().join("journal.jsonl").display())));
    }
    let last = job.records.last().map(|record| record.at);
    let events = job.records.into_iter().map(|record| record.event).collect();
    Ok(Opened { folder: job.folder, guide: job.guide, events, last, notes })
}

/// Makes the job: the guide, with the kit's numbers in it, and the first event.
fn begin(
    arguments: &WalkArguments,
    job: Option<&JobName>,
    jobs: &JobsRoot,
    settings: &Settings,
    lines: &mut Lines,
    output: &mut Output,
) -> Result<Opened, Failure> {
    let Some(id) = &arguments.guide else {
        return Err(match &arguments.job {
            Some(name) => Failure::usage(format!("there is no job `{name}`"))
                .help("name a guide to begin it: `stepjig walk GUIDE --job NAME`"),
            None => Failure::usage("say which guide to walk")
                .help("`stepjig list` shows them; `stepjig walk two-tube-fountain`"),
        });
    };
    let mut guide = shelf::sound(settings, id)?;
    if let Some(kit) = &arguments.kit {
        kit_file::put_in(&mut guide, kit, settings)?;
    }
    let held = match &arguments.from {
        None => Vec::new(),
        Some(names) if names.is_empty() => ask_what_holds(&guide, lines, output)?,
        Some(names) => {
            rejoin::conditions(&guide, names)?.into_iter().map(|condition| guide.name(condition).to_owned()).collect()
        }
    };
    let name = match job {
        Some(name) => name.clone(),
        None => free_name(jobs, guide.id())?,
    };
    let text = crate::guide::write::linked(&guide);
    let mut folder = jobs.create(&name, &text).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let mut notes = Vec::new();
    if job.is_none() {
        notes.push(format!("note: this pen is the job `{name}`; go on with it by `stepjig walk --job {name}`"));
    }
    notes.iter().for_each(|note| output.aside(note));
    let now = Timestamp::now();
    let event = Event::Begun { at: now, held };
    folder.append(&event, now).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    Ok(Opened { folder, guide: text, events: vec![event], last: Some(now), notes })
}

/// Returns the first name after the guide's that no job has.
fn free_name(jobs: &JobsRoot, guide: &str) -> Result<JobName, Failure> {
    let plain = |c: &char| c.is_ascii_alphanumeric() || *c == '-';
    let stem: String = guide.chars().filter(plain).skip_while(|c| *c == '-').take(40).collect();
    let stem = if stem.is_empty() { "pen".to_owned() } else { stem };
    for n in 1..10_000 {
        let name = name_of(&format!("{stem}-{n}"))?;
        if !jobs.job_path(&name).exists() {
            return Ok(name);
        }
    }
    Err(Failure::usage("there are too many jobs of that name").help("name this one: `--job NAME`"))
}

/// Asks what is true of a half-made pen, the latest first; a yes answers for all that it was built on.
fn ask_what_holds(guide: &Guide, lines: &mut Lines, output: &mut Output) -> Result<Vec<String>, Failure> {
    let mut held = Vec::new();
    let mut settled = crate::guide::ConditionSet::default();
    output.paragraph("What is done already? Answer yes or no, the latest first.");
    for condition in crate::walk::rejoin::latest_first(guide) {
        if !settled.insert(condition) {
            continue;
        }
        loop {
            output.paragraph(&format!("Is it so: {}?", guide.said(condition)));
            match lines.ask("yes or no> ", vec!["yes".into(), "no".into()])? {
                Typed::Line(line) => match crate::guide::fold(&line).as_str() {
                    "yes" | "y" => {
                        held.push(guide.name(condition).to_owned());
                        let under: Vec<_> =
                            guide.conditions().filter(|under| guide.built_on([*under]).contains(condition)).collect();
                        for under in under {
                            if settled.insert(under) {
                                held.push(guide.name(under).to_owned());
                            }
                        }
                        break;
                    }
                    "no" | "n" => break,
                    _ => output.line("Please type yes or no."),
                },
                Typed::Dropped | Typed::End => {
                    return Err(
                        Failure::usage("the questions were broken off").help("name what is done: `--from body.glued`")
                    );
                }
            }
        }
    }
    Ok(held)
}

/// One sitting of a walk.
struct Session<'s, 'g> {
    walk: Walk<'g>,
    folder: JobFolder,
    lines: Lines,
    output: &'s mut Output,
    settings: &'s Settings,
    /// What the next screen begins with: drawing it wipes whatever was said before.
    news: Vec<String>,
}

impl Session<'_, '_> {
    /// Says once more over the first screen what was noted on opening, and how to leave.
    fn greet(&mut self, notes: Vec<String>) {
        if self.lines.is_screen() {
            self.news = notes;
        }
        if self.lines.is_person() {
            self.tell_over_screen(vec![
                "`?` shows what can be typed; `park` or Ctrl-D lays the pen aside, and nothing is lost.".to_owned(),
            ]);
        }
    }

    /// Says something that is to stand over the next screen.
    fn tell_over_screen(&mut self, told: Vec<String>) {
        match self.lines.is_screen() {
            true => self.news.extend(told),
            false => self.tell(&told),
        }
    }

    /// Records an event and applies it; returns whether it is on disk. If not, that is said and the walk goes on.
    fn take(&mut self, event: Event) -> bool {
        let recorded = self.folder.append(&event, Timestamp::now());
        if let Err(wrong) = &recorded {
            let failure = Failure::usage(wrong.to_string());
            self.output.failure(&failure);
            if self.lines.is_screen() {
                self.news.push(failure.to_string());
            }
        }
        self.walk.take(&event);
        recorded.is_ok()
    }

    fn resume(&mut self, last: Option<Timestamp>) -> Result<(), Failure> {
        if self.walk.state().phase == Phase::Ended {
            return Ok(());
        }
        let now = Timestamp::now();
        let before = (self.walk.state().here, self.walk.state().last_left);
        self.take(Event::Resumed { at: now });
        let state = self.walk.state();
        let mut told = vec![format!("Going on with {}.", self.folder.name())];
        if let Some(step) = before.1 {
            told.push(format!("Last done: {}", self.walk.title(step)));
        }
        if let Some(last) = last {
            told.push(match now.duration_since(last) {
                away if away.is_negative() => {
                    format!("The clock stands {} before the last mark: it was moved back.", span_said(-away))
                }
                away => format!("Time away: {}.", span_said(away)),
            });
        }
        for wait in &state.pending {
            let title = self.walk.title(wait.step);
            told.push(match wait.due <= now {
                true => format!("Over by the clock since {}: {title}. Look for the sign.", clock_said(state, wait.due)),
                false => format!("Still running, due {}: {title}", clock_said(state, wait.due)),
            });
        }
        if state.here != before.0 {
            told.push("What comes and goes has gone in the meantime; these steps are looked at again.".to_owned());
        }
        self.tell_over_screen(told);
        Ok(())
    }

    /// Shows the scene, reads and takes answers until the walk ends or is laid aside.
    fn go(&mut self) -> Outcome {
        let mut shown = false;
        loop {
            let now = Timestamp::now();
            let scene = self.walk.scene(now);
            if !shown && !self.show(&scene)? {
                self.take(Event::Parked { at: Timestamp::now() });
                return Ok(self.parked());
            }
            shown = true;
            if self.walk.state().phase == Phase::Ended {
                return Ok(self.end());
            }
            if self.output.is_broken() {
                self.take(Event::Parked { at: Timestamp::now() });
                return Ok(0);
            }
            if self.settings.no_input {
                let wanted = screen::asking(&scene);
                self.take(Event::Parked { at: Timestamp::now() });
                return Err(Failure::usage(format!(
                    "step `{}` wants an answer ({})",
                    scene.id,
                    wanted.trim_end_matches("> ")
                )));
            }
            let mut words = self.walk.can_type();
            if matches!(scene.wanted, Wanted::Reading { .. }) {
                // The first says that a reading is wanted; a number cannot be completed.
                words.remove(0);
            }
            let line = match self.lines.ask(&screen::asking(&scene), words)? {
                Typed::Line(line) => line,
                Typed::Dropped => {
                    self.output
                        .paragraph("Nothing was lost; that line was dropped. `park` or Ctrl-D lays the pen aside.");
                    continue;
                }
                Typed::End => "park".to_owned(),
            };
            match self.read(&line)? {
                Ok(Answer::Event(event)) => {
                    let is_note = matches!(event, Event::Note { .. });
                    let parks = matches!(event, Event::Parked { .. });
                    let recorded = self.take(event);
                    if parks {
                        return Ok(self.parked());
                    }
                    if is_note && recorded {
                        self.output.line("Noted.");
                    }
                    shown = is_note;
                }
                Ok(Answer::Tell(told)) => self.tell(&told),
                Err(refusal) => self.tell(&[refusal.to_string()]),
            }
        }
    }

    /// Reads a line; where a person types, a slip such as `9,92 mm` is asked back once.
    fn read(&mut self, line: &str) -> Result<Result<Answer, Refusal>, Failure> {
        let read = self.walk.read(line, Timestamp::now());
        let meant = match &read {
            Err(Refusal { meant: Some(meant), .. }) if self.lines.is_person() => meant.clone(),
            _ => return Ok(read),
        };
        let words = vec!["yes".to_owned(), "no".to_owned()];
        match self.lines.ask(&format!("{meant}? yes or no> "), words)? {
            Typed::Line(line) if matches!(crate::guide::fold(&line).as_str(), "yes" | "y") => {
                Ok(self.walk.read(&meant, Timestamp::now()))
            }
            _ => Ok(read),
        }
    }

    /// Shows a scene, page by page where the terminal is low; the step itself is on the last page.
    ///
    /// Returns whether the person stayed to the last page: Ctrl-D lays the pen aside on any.
    fn show(&mut self, scene: &crate::walk::Scene) -> Result<bool, Failure> {
        let wipes = self.lines.is_screen();
        let width = settings::width();
        // One line for the prompt, one for what is typed after it on a narrow terminal.
        let rows = if wipes { settings::height() - 2 } else { usize::MAX };
        let news: Vec<String> =
            self.news.drain(..).flat_map(|paragraph| screen::wrapped(&paragraph, width, "", "    ")).collect();
        let pages = screen::under_news(&news, screen::pages(scene, width, rows, self.settings.ascii), scene, rows);
        for (n, page) in pages.iter().enumerate() {
            if n > 0 && matches!(self.lines.ask("Enter for the rest> ", Vec::new())?, Typed::End) {
                return Ok(false);
            }
            if wipes {
                self.output.text("\u{1b}[2J\u{1b}[H");
            } else if n == 0 {
                self.output.line("");
            }
            self.output.line(&page.join("\n"));
        }
        Ok(true)
    }

    fn tell(&mut self, paragraphs: &[String]) {
        paragraphs.iter().for_each(|paragraph| self.output.paragraph(paragraph));
    }

    fn parked(&mut self) -> u8 {
        let name = self.folder.name().clone();
        self.tell(&[format!("Laid aside. Everything is kept; go on with: stepjig walk --job {name}")]);
        1
    }

    /// Says how the walk went; returns the exit code.
    fn end(&mut self) -> u8 {
        let state = self.walk.state();
        let guide = self.walk.guide();
        let finished = matches!(guide.step(state.here).kind, Kind::End(EndKind::Finished));
        let record = &state.record;
        let mut told = vec![format!("{}: {}", guide.title(), if finished { "finished" } else { "scrap" })];
        for (what, steps) in [
            ("Skipped", &record.skipped),
            ("Taken back", &record.taken_back),
            ("Done more than once", &record.done_again),
        ] {
            told.extend(steps.iter().map(|step| format!("{what}: {}", self.walk.title(*step))));
        }
        told.extend(
            record
                .out_of_limits
                .iter()
                .map(|(step, said)| format!("Out of limits: {said} at {}", self.walk.title(*step))),
        );
        told.extend(record.notes.iter().map(|note| format!("Note: {note}")));
        let took = state.clock.duration_since(state.began) - SignedDuration::from_secs(record.parked_s);
        told.push(format!("Time at it, waits included: {}.", span_said(took)));
        self.tell(&told);
        u8::from(!finished)
    }

    /// Keeps the numbers measured on this walk, where a name is given or a person gives one.
    fn keep_kit(&mut self, named: Option<String>) -> Result<(), Failure> {
        let numbers = self.walk.state().numbers.clone();
        if numbers.is_empty() {
            return Ok(());
        }
        let name = match named {
            Some(name) => name,
            None if self.lines.is_person() => {
                self.output
                    .paragraph("Keep the measured numbers for the next pen of this kit? Type a name, or Enter not to.");
                match self.lines.ask("kit name> ", Vec::new())? {
                    Typed::Line(line) if !line.trim().is_empty() => line.trim().to_owned(),
                    _ => return Ok(()),
                }
            }
            None => return Ok(()),
        };
        let path = kit_file::keep(&name, &numbers, self.settings)?;
        self.output.aside(&format!("note: kept as {}; use it by `--kit {name}`", path.display()));
        Ok(())
    }
}
