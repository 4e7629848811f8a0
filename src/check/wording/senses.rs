//! What a word can mean to the lints.

/// The senses a word can have, a set of bits: `press` is work, `not` is a negation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Senses(u32);

impl Senses {
    /// A word that nobody can measure.
    pub(super) const VAGUE: Senses = Senses(1 << 0);
    /// The end of a phrase that nobody can measure: `as needed`.
    pub(super) const VAGUE_END: Senses = Senses(1 << 1);
    /// A verb that looks: `check`.
    pub(super) const LOOK: Senses = Senses(1 << 2);
    /// A verb that a step may begin with.
    pub(super) const VERB: Senses = Senses(1 << 3);
    /// A verb of work that is ticked.
    pub(super) const WORK: Senses = Senses(1 << 4);
    /// A unit, or what is counted.
    pub(super) const UNIT: Senses = Senses(1 << 5);
    /// A number, in figures or words.
    pub(super) const NUMBER: Senses = Senses(1 << 6);
    /// A number that has its unit.
    pub(super) const MEASURE: Senses = Senses(1 << 7);
    /// A reference in braces.
    pub(super) const REFERENCE: Senses = Senses(1 << 8);
    /// One of the four signal words.
    pub(super) const SIGNAL: Senses = Senses(1 << 9);
    /// `if`, `when`, `unless`.
    pub(super) const CONDITION: Senses = Senses(1 << 10);
    /// `not` and its kin.
    pub(super) const NEGATION: Senses = Senses(1 << 11);
    /// `and`, `or`, `but`.
    pub(super) const JOIN: Senses = Senses(1 << 12);
    /// `then`, `next`, `first`.
    pub(super) const ORDER: Senses = Senses(1 << 13);
    /// What may follow a verb and shows that it is one: `the`, `it`, `off`.
    pub(super) const OBJECT: Senses = Senses(1 << 14);
    /// A sign that one can see or feel: `until`, `flush`.
    pub(super) const SIGN: Senses = Senses(1 << 15);
    /// A finite verb that states something: `is`, `fits`.
    pub(super) const STATES: Senses = Senses(1 << 16);
    /// `can`, `may`, `should`.
    pub(super) const MODAL: Senses = Senses(1 << 17);
    /// Asks for doing it over again.
    pub(super) const REPEAT: Senses = Senses(1 << 18);
    /// A part of the body.
    pub(super) const BODY: Senses = Senses(1 << 19);
    /// What may happen to a part of the body, and to a pen too.
    pub(super) const INJURY: Senses = Senses(1 << 20);
    /// What can only happen to a person.
    pub(super) const HARM: Senses = Senses(1 << 21);
    /// What may hurt a person, though it need not.
    pub(super) const PERIL: Senses = Senses(1 << 22);
    /// What happens to the work, the tool or the kit.
    pub(super) const DAMAGE: Senses = Senses(1 << 23);
    /// An answer that leaves the question open.
    pub(super) const OPEN: Senses = Senses(1 << 24);
    /// The end of an answer that leaves it open: `cannot tell`.
    pub(super) const OPEN_END: Senses = Senses(1 << 25);
    /// A word that says that a wait is over and names no sign of it.
    pub(super) const OVER: Senses = Senses(1 << 26);
    /// An action about oneself or the room, which a caution may ask for.
    pub(super) const PRECAUTION: Senses = Senses(1 << 27);
    /// An answer that says nothing of what was seen.
    pub(super) const EMPTY: Senses = Senses(1 << 28);
    /// A limit on how often: `once`, `most`.
    pub(super) const LIMIT: Senses = Senses(1 << 29);

    /// Returns both sets together.
    pub(super) const fn and(self, other: Senses) -> Senses {
        Senses(self.0 | other.0)
    }

    /// Tells whether the word has any of these senses.
    pub(super) const fn has(self, any: Senses) -> bool {
        self.0 & any.0 != 0
    }
}
