//! How deep brackets, text holes and `when` choices lie in one another, counted before anything recurses into them.

/// How far a `when` has been read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Choice {
    /// Its condition, or what follows `then`.
    Open,
    /// Its `{ … }` is closed; an `else` may follow.
    Closed,
    /// What follows its `else`.
    Else,
}

/// The choices open in each bracket, from the outermost on.
#[derive(Debug)]
pub(super) struct Nesting {
    levels: Vec<Vec<Choice>>,
    choices: usize,
}

impl Nesting {
    /// Nothing open.
    pub(super) fn new() -> Self {
        Self { levels: vec![Vec::new()], choices: 0 }
    }

    /// How deep the text is nested here.
    pub(super) fn depth(&self) -> usize {
        self.levels.len() - 1 + self.choices
    }

    /// A bracket opens.
    pub(super) fn open(&mut self) {
        self.levels.push(Vec::new());
    }

    /// A bracket closes; `braces` when it closes a block, perhaps of a `when`.
    pub(super) fn close(&mut self, braces: bool) {
        if self.levels.len() < 2 {
            return;
        }
        self.choices -= self.levels.pop().map_or(0, |inner| inner.len());
        if let Some(last) = self.levels.last_mut().and_then(|level| level.last_mut())
            && braces
            && *last == Choice::Open
        {
            *last = Choice::Closed;
        }
    }

    /// The word `when`; `chained` right after an `else`.
    pub(super) fn when(&mut self, chained: bool) {
        if !chained {
            self.finish(&[Choice::Else, Choice::Closed]);
        }
        if let Some(level) = self.levels.last_mut() {
            level.push(Choice::Open);
            self.choices += 1;
        }
    }

    /// The word `then`.
    pub(super) fn then(&mut self) {
        self.finish(&[Choice::Else]);
    }

    /// The word `else`.
    pub(super) fn otherwise(&mut self) {
        self.finish(&[Choice::Else]);
        if let Some(last) = self.levels.last_mut().and_then(|level| level.last_mut()) {
            *last = Choice::Else;
        }
    }

    fn finish(&mut self, done: &[Choice]) {
        let Some(level) = self.levels.last_mut() else { return };
        while level.last().is_some_and(|c| done.contains(c)) {
            level.pop();
            self.choices -= 1;
        }
    }
}
