//! What can be wrong with the replies of a language, for whoever keeps its folder.

use thiserror::Error;

use super::value::Length;

/// Where something is wrong, and what. A key that starts with `-` is a Fluent term.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ReplyTrouble {
    #[error("{code:?} is not a language code; name the folder by one, such as en or pt-BR")]
    NoLanguage { code: String },
    #[error("line {line}: {what}")]
    Syntax { line: usize, what: String },
    #[error("{key} is there twice; keep one")]
    Duplicate { key: String },
    #[error("{key} has no text; write its full wording after the =")]
    NoText { key: String },
    #[error("{key} has the attribute .{attribute}; only .short and .tiny are read, each once")]
    UnknownAttribute { key: String, attribute: String },
    #[error("{key} calls {function}(); replies call none, numbers come already written")]
    Function { key: String, function: String },
    #[error("{key} refers to {reference}, which is not there; add it or name another")]
    UnknownReference { key: String, reference: String },
    #[error("{key} refers to itself; end the circle")]
    Circular { key: String },
    #[error("{key} asks for ${value}; terms are given no values, move it into the message")]
    ValueInTerm { key: String, value: String },
    #[error("{key} chooses by ${value} both as a number and as a code; keep one")]
    Mixed { key: String, value: String },

    #[error("{key} is missing; add it")]
    MissingKey { key: String },
    #[error("{key} has no {length:?} wording")]
    MissingLength { key: String, length: Length },
    #[error("{key} is used nowhere; take it out or correct its name")]
    UnknownKey { key: String },
    #[error("{key} asks for ${value}, which it is not given; take it out or correct its name")]
    MissingValue { key: String, value: String },
    #[error("{key} is given ${value} and never shows it; add it")]
    UnusedValue { key: String, value: String },
    #[error("{key} chooses a plural by ${value}, which is no count")]
    NotACount { key: String, value: String },
    #[error("{key} chooses its words by ${value}, which is no code")]
    NotACode { key: String, value: String },
    #[error("{key} has no words for the code {code} of ${value}; add [{code}]")]
    MissingCode { key: String, value: String, code: String },
    #[error("{key} has words for the code {code}, which ${value} never is; take it out or correct its name")]
    UnknownCode { key: String, value: String, code: String },
    #[error("the {length:?} wording of {key} comes out blank; write something in every branch")]
    Blank { key: String, length: Length },
    #[error("{key} cannot be put together: {what}")]
    Unresolved { key: String, what: String },
}

impl ReplyTrouble {
    /// The message or term that it is about.
    fn key(&self) -> Option<&str> {
        use ReplyTrouble::*;
        match self {
            NoLanguage { .. } | Syntax { .. } => None,
            Duplicate { key }
            | NoText { key }
            | UnknownAttribute { key, .. }
            | Function { key, .. }
            | UnknownReference { key, .. }
            | Circular { key }
            | ValueInTerm { key, .. }
            | Mixed { key, .. }
            | MissingKey { key }
            | MissingLength { key, .. }
            | UnknownKey { key }
            | MissingValue { key, .. }
            | UnusedValue { key, .. }
            | NotACount { key, .. }
            | NotACode { key, .. }
            | MissingCode { key, .. }
            | UnknownCode { key, .. }
            | Blank { key, .. }
            | Unresolved { key, .. } => Some(key),
        }
    }

    /// The line of a file's text on which the message begins that it is about, from 1; a fault of syntax tells its own.
    pub fn line(&self, text: &str) -> Option<usize> {
        let key = self.key()?;
        let begins = |line: &str| line.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='));
        text.lines().position(begins).map(|at| at + 1)
    }
}
