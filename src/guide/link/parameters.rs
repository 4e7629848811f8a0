//! Finds the procedure that a run names, and gives it its parameters.

use std::sync::Arc;

use super::scope::{NoSuchValue, Scope, Value, Why};
use super::{Linker, Numbers};
use crate::finding::{Code, did_you_mean, nearest};
use crate::guide::document::{Document, RawStep, Text};

impl Linker<'_> {
    /// Returns the procedure of that name, read once.
    pub(super) fn procedure(&mut self, n: usize, name: &Text, depth: usize) -> Option<Arc<Document>> {
        let name_value = match self.instances[n].scope.name(&name.value) {
            Ok(name) => name,
            Err(wrong) => {
                self.no_such_value(n, &name.span, wrong);
                return None;
            }
        };
        let Some(source) = self.library.procedure(&name_value) else {
            let help = did_you_mean(&name_value, self.library.procedure_ids());
            let message = format!("there is no procedure `{name_value}`");
            self.report(n, Code::NoSuchProcedure, &name.span, message).help = help;
            return None;
        };
        if depth >= self.library.limits().depth {
            let most = self.library.limits().depth;
            let message = format!("procedures run each other more than {most} deep here");
            let finding = self.report(n, Code::RunLoop, &name.span, message);
            finding.help = Some("a procedure cannot run itself, by others either; lay the steps out flat".into());
            return None;
        }
        if let Some(known) = self.procedures.get(&name_value) {
            return known.clone();
        }
        let (document, findings) = crate::guide::read(&source, self.library.limits());
        self.findings.extend(findings);
        let document = document.map(Arc::new);
        self.procedures.insert(name_value, document.clone());
        document
    }

    /// Returns the scope inside a procedure: what the run gives for each thing it takes.
    pub(super) fn parameters(
        &mut self,
        n: usize,
        raw: &RawStep,
        procedure: &Document,
        outer: &Scope,
        with: &[(Text, Text)],
    ) -> Option<Scope> {
        let takes: Vec<&str> = procedure.takes.iter().map(|text| text.value.as_str()).collect();
        let mut scope = Scope::new(self.library.limits().field_bytes);
        let (mut complete, mut misspelt) = (true, Vec::new());
        for (name, value) in with {
            if !takes.contains(&name.value.as_str()) {
                let help = did_you_mean(&name.value, takes.iter().copied());
                misspelt.extend(nearest(&name.value, takes.iter().copied()));
                let message = format!("the procedure `{}` takes no `{}`", procedure.id.value, name.value);
                self.report(n, Code::UnknownKey, &name.span, message).help = help;
                continue;
            }
            match self.passed_on(outer, &value.value) {
                Ok(value) => scope.push(name.value.clone(), value),
                Err(wrong) => {
                    self.no_such_value(n, &value.span, wrong);
                    complete = false;
                }
            }
        }
        for name in takes {
            if scope.get(name).is_none() && misspelt.contains(&name) {
                complete = false; // Told by its misspelt name.
            }
            if scope.get(name).is_none() && complete {
                let message =
                    format!("the procedure `{}` takes `{name}`, and this run does not give it", procedure.id.value);
                let finding = self.report(n, Code::MissingKey, &raw.kind.text().span, message);
                finding.help = Some(format!("add `with = {{ {name} = … }}`"));
                complete = false;
            }
        }
        if let (Some(each), None) = (outer.get("each"), scope.get("each")) {
            scope.push("each", each.clone());
        }
        complete.then_some(scope)
    }

    /// Returns the value of a `with` entry: a parameter passed on whole, a kit path, words, or words with kit numbers.
    fn passed_on(&self, outer: &Scope, written: &str) -> Result<Value, NoSuchValue> {
        if let Some(passed) =
            written.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')).and_then(|name| outer.get(name))
        {
            return Ok(passed.clone());
        }
        if outer.is_list(written) || written.starts_with("{kit.") {
            return Ok(Value::Numbers(outer.text(written, |name| self.known_path(name).then(|| name.to_owned()))?));
        }
        let value = Value::of(&outer.name(written)?);
        if let Value::Path(path) = &value
            && !self.known_path(path)
        {
            return Err(NoSuchValue { name: path.clone(), why: Why::Unknown });
        }
        Ok(value)
    }

    /// Tells whether the kit has a number of that name, or numbers below it.
    fn known_path(&self, path: &str) -> bool {
        let branch = format!("{path}.");
        let below = self.paths.range(branch.clone()..).next().is_some_and(|known| known.starts_with(&branch));
        self.paths.contains(path) || below || self.numbers == Numbers::Any
    }
}
