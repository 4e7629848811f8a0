//! The codes of findings: one a kind of fault, each with its weight and a page that explains it.

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The guide cannot be trusted at the press until this is mended.
    Error,
    /// The guide works; a turner would be better served with this mended.
    Warning,
}

impl Severity {
    /// Returns the word that reports use.
    pub fn as_str(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
        }
    }
}

macro_rules! codes {
    ($($severity:ident { $($name:ident = $code:literal,)* })*) => {
        /// The kind of a finding. Each has a page, shown by `stepjig check --explain CODE`.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[expect(missing_docs, reason = "each is documented by its page, see Code::page")]
        pub enum Code { $($($name,)*)* }

        impl Code {
            /// All codes, in the order of their pages.
            pub const ALL: &[Code] = &[$($(Code::$name,)*)*];

            /// Returns the code as it is written in reports.
            pub fn as_str(self) -> &'static str {
                match self { $($(Code::$name => $code,)*)* }
            }

            /// Returns how much a finding of this kind weighs.
            pub fn severity(self) -> Severity {
                match self { $($(Code::$name => Severity::$severity,)*)* }
            }

            /// Returns the page that explains it: what it means, why it matters at the bench, an example, what to write instead.
            pub fn page(self) -> &'static str {
                match self { $($(Code::$name => include_str!(concat!("pages/", $code, ".md")),)*)* }
            }
        }
    };
}

codes! {
    Error {
        Syntax = "syntax",
        UnknownKey = "unknown-key",
        MissingKey = "missing-key",
        WrongType = "wrong-type",
        BadValue = "bad-value",
        DuplicateId = "duplicate-id",
        TwoKinds = "two-kinds",
        NoSuchStep = "no-such-step",
        NoSuchProcedure = "no-such-procedure",
        NoSuchTrouble = "no-such-trouble",
        NoSuchValue = "no-such-value",
        NoSuchReckoning = "no-such-reckoning",
        RunLoop = "run-loop",
        OneAnswer = "one-answer",
        DuplicateAnswer = "duplicate-answer",
        ReservedAnswer = "reserved-answer",
        NoSuchAnswer = "no-such-answer",
        MissingWay = "missing-way",
        NoFinish = "no-finish",
        Unreachable = "unreachable",
        NoWayOut = "no-way-out",
        NeedUnmet = "need-unmet",
        NeverGiven = "never-given",
        OneWayUnguarded = "one-way-unguarded",
        EndUnguarded = "end-unguarded",
    }
    Warning {
        IdleStep = "idle-step",
        IdleGate = "idle-gate",
        FixedGivesNothing = "fixed-gives-nothing",
        RemedyNoGain = "remedy-no-gain",
        AlikeCauses = "alike-causes",
        IdleCheck = "idle-check",
        IdleRemedy = "idle-remedy",
        NeverLikeliest = "never-likeliest",
        Unworded = "unworded",
        VagueWord = "vague-word",
        NoPassState = "no-pass-state",
        TwoActions = "two-actions",
        WaitUnclear = "wait-unclear",
        CautionApart = "caution-apart",
        ActionInCaution = "action-in-caution",
        SignalWord = "signal-word",
        CautionShape = "caution-shape",
        NoCannotTell = "no-cannot-tell",
        AnswersOverlap = "answers-overlap",
        QuestionUnclear = "question-unclear",
        LongSentence = "long-sentence",
        VerbFirst = "verb-first",
        ConditionLast = "condition-last",
        OpenRepeat = "open-repeat",
        LongStretch = "long-stretch",
        NoUseWhen = "no-use-when",
        TrialBehind = "trial-behind",
        NoHold = "no-hold",
    }
}

impl Code {
    /// Returns the code of that name.
    pub fn of_name(name: &str) -> Option<Code> {
        Code::ALL.iter().copied().find(|code| code.as_str() == name)
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.as_str())
    }
}
