//! What a prompt asks besides what a sum cannot do without, and what may stand for what.

/// How a prompt leads a person to a sum. It asks what is missing in any case; this is what it asks besides.
#[derive(Debug)]
pub struct Asking {
    /// Inputs that are asked for though the sum can do without them, or takes what is usual.
    pub also: &'static [&'static str],
    /// Where one of several things can be given.
    pub forks: &'static [Fork],
    /// What to say under the result, of how to go on.
    pub after: Option<&'static str>,
}

/// A place where one of several things can be given; the person says which.
#[derive(Debug)]
pub struct Fork {
    /// The input in whose place it is asked.
    pub at: &'static str,
    /// The question.
    pub asks: &'static str,
    /// What can be given, the best first.
    pub ways: &'static [Way],
}

/// One thing that can be given.
#[derive(Debug)]
pub enum Way {
    /// These inputs, in this order.
    Given {
        /// What it is, in words.
        say: &'static str,
        /// The inputs.
        inputs: &'static [&'static str],
    },
    /// Nothing: the hands find it without a sum.
    WithoutSum {
        /// What it is, in words.
        say: &'static str,
        /// What the hands do.
        told: &'static str,
    },
}

impl Asking {
    /// Nothing but what is missing.
    pub const NOTHING_BESIDES: Asking = Asking { also: &[], forks: &[], after: None };

    /// Returns where the way is asked that an input is part of.
    pub fn fork(&self, input: &str) -> Option<&'static Fork> {
        self.forks.iter().find(|fork| fork.at == input)
    }
}

impl Fork {
    /// Returns all inputs that one or the other way asks for.
    pub fn inputs(&self) -> impl Iterator<Item = &'static str> {
        self.ways.iter().flat_map(|way| way.inputs()).copied()
    }
}

impl Way {
    /// Returns what it is, in words.
    pub fn say(&self) -> &'static str {
        match self {
            Way::Given { say, .. } | Way::WithoutSum { say, .. } => say,
        }
    }

    /// Returns the inputs that it asks for.
    pub fn inputs(&self) -> &'static [&'static str] {
        match self {
            Way::Given { inputs, .. } => inputs,
            Way::WithoutSum { .. } => &[],
        }
    }
}
