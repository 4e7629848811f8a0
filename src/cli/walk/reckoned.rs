//! A reckoning that is called by its name at a step: told under it, or its next value asked for.

use super::session::{Next, Session};
use crate::cli::failure::Failure;
use crate::sheet::clock_face;
use crate::walk::Scene;

impl Session<'_, '_> {
    /// Tells what a reckoning comes to, or asks for what it wants, under why what was typed before was refused.
    pub(super) fn reckoned(&mut self, name: &str, refused: Option<String>, scene: &Scene) -> Result<Next, Failure> {
        let Some(called) = self.walk.reckon(name) else { return Ok(Next::Draw) };
        let mut told = called.told;
        told.splice(0..0, refused);
        if !called.face.is_empty() {
            let marks: Vec<_> = called.face.iter().map(|(mark, at)| (mark.as_str(), *at)).collect();
            told.extend(clock_face::draw(&marks, self.settings.ascii));
        }
        if !called.wants {
            return self.tell_under(&told, scene);
        }
        told.push("Enter leaves it.".to_owned());
        match self.ask_listed(&format!("{name}> "), &told, Vec::new(), scene)? {
            None => Ok(Next::Park),
            Some(line) if line.trim().is_empty() => Ok(Next::Draw),
            Some(line) => {
                let line = format!(":reckon {name} {line}");
                match self.read(&line)? {
                    Err(refusal) => self.reckoned(name, Some(format!("{refusal}.")), scene),
                    read => self.follow(&line, read, scene),
                }
            }
        }
    }
}
