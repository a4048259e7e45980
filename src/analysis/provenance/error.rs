//! What is said when a value asked for is not there.

use std::fmt;

/// Of the values that belong to a name, so many are listed.
pub(super) const MOST_NAMES: usize = 12;

/// No value goes by this name.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct NotAFact {
    /// What was asked for.
    pub name: String,
    /// The nearest name there is, when one is near.
    pub nearest: Option<String>,
    /// Values that belong to what was asked for, or stand beside it: the edges of a panel.
    pub parts: Vec<String>,
    /// Which of the totals there are.
    pub totals: Vec<&'static str>,
}

/// What is added up over all goods and seams.
pub(super) const TOTALS: [&str; 3] = ["mass", "cost", "thread"];

impl fmt::Display for NotAFact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "there is no value called `{}` in this design", self.name)?;
        match &self.nearest {
            Some(near) => write!(f, "; did you mean `{near}`?"),
            None if !self.parts.is_empty() => {
                let parts: Vec<String> = self.parts.iter().map(|p| format!("`{p}`")).collect();
                write!(f, "; you can ask about {}", parts.join(", "))
            }
            None if self.name == "cost" => write!(f, ": none of its goods states a price"),
            None if self.name == "mass" => write!(f, ": none of its goods states a mass"),
            None => {
                let totals: Vec<String> = self.totals.iter().map(|t| format!(", `{t}`")).collect();
                write!(f, "; you can ask about a parameter, a `let`, an edge (`shell.left`){}", totals.concat())
            }
        }
    }
}
