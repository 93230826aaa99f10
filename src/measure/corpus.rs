//! A corpus: one row a message.

use serde::Deserialize;

/// Which half of a corpus a row belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Half {
    /// May shape the language folders.
    Shape,
    /// Only measures: no example of a folder is taken from it.
    Measure,
}

impl Half {
    /// Both.
    pub const ALL: [Half; 2] = [Half::Shape, Half::Measure];

    /// Its name in files.
    pub fn name(self) -> &'static str {
        match self {
            Half::Shape => "shape",
            Half::Measure => "measure",
        }
    }
}

/// One message.
#[derive(Debug, Clone, Deserialize)]
pub struct Row {
    pub half: Half,
    /// What kind of message it is, such as `question` or `danger`.
    pub kind: String,
    /// Messages sent before it in the same talk, parted by ` | `.
    pub before: String,
    pub text: String,
    /// What should come of it, parted by spaces: `lift_m=3`, `topic:alone`, `danger:shock`, `none`.
    pub expect: String,
}

/// The messages of one language.
#[derive(Debug, Clone)]
pub struct Corpus {
    /// The language's code.
    pub code: String,
    pub rows: Vec<Row>,
}

/// What is wrong with a file.
#[derive(Debug, thiserror::Error)]
#[error("{code}.csv is not read: {error}")]
pub struct CorpusFault {
    code: String,
    error: csv::Error,
}

impl Corpus {
    /// Reads a CSV file (RFC 4180) with a header.
    ///
    /// # Errors
    /// A row that is not of that form.
    pub fn read(code: &str, bytes: &[u8]) -> Result<Corpus, CorpusFault> {
        let rows = csv::Reader::from_reader(bytes).deserialize().collect::<Result<_, _>>();
        let rows = rows.map_err(|error| CorpusFault { code: code.to_owned(), error })?;
        Ok(Corpus { code: code.to_owned(), rows })
    }
}
