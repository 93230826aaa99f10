//! The sentences of one language, as Fluent messages: the value is the full wording, `.short` and `.tiny` say it in
//! fewer letters.
//!
//! ```text
//! # $water_m3 and $month are text, $verdict is one of the codes enough and short.
//! verdict = { $verdict ->
//!         [enough] Enough: { $water_m3 } m3 a day in { $month }.
//!        *[short] Not enough: { $water_m3 } m3 a day in { $month }.
//!     }
//!     .tiny = { $water_m3 } m3 a day
//! ```
//!
//! What Fluent would pass over in silence is a trouble here: a value that was not given, a code without words of its
//! own, a text where a number is counted, a function, an attribute with another name.
//! Numbers come already written in the language's own style, since Fluent's would group them with a space that is not
//! in the network's alphabet; a number is given as a number only to choose a plural.

use std::collections::BTreeMap;
use std::fmt;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentError, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

mod asks;
mod check;
mod trouble;
mod value;

use asks::Asks;
pub use check::{Kind, Required};
pub use trouble::ReplyTrouble;
pub use value::{Length, Value};

/// The replies of one language, checked when loaded.
pub struct Replies {
    bundle: FluentBundle<FluentResource>,
    /// What each wording of each message asks for.
    asks: BTreeMap<String, BTreeMap<Length, Asks>>,
}

impl Replies {
    /// Reads the replies of a language from the text of its Fluent file.
    ///
    /// # Errors
    /// Everything that is wrong in the file, in its order; when it cannot be parsed, only that.
    pub fn load(code: &str, ftl_source: &str) -> Result<Replies, Vec<ReplyTrouble>> {
        Replies::load_with(code, ftl_source, [])
    }

    /// The same, with words that growers type as terms: `{ -command-stop }` stands for whatever word the language has for
    /// it, so that what a reply tells to send is what is read.
    ///
    /// # Errors
    /// As [`Replies::load`].
    pub fn load_with<'w>(
        code: &str,
        ftl_source: &str,
        words: impl IntoIterator<Item = (String, &'w str)>,
    ) -> Result<Replies, Vec<ReplyTrouble>> {
        let terms: String = words.into_iter().map(|(name, word)| format!("\n-{name} = {word}")).collect();
        // After the file's own text, whose lines stay where they are.
        let ftl_source = &format!("{ftl_source}\n{terms}\n");
        let language: LanguageIdentifier =
            code.parse().map_err(|_| vec![ReplyTrouble::NoLanguage { code: code.into() }])?;
        let resource = FluentResource::try_new(ftl_source.into()).map_err(|(_, errors)| {
            let trouble = |error: fluent_syntax::parser::ParserError| ReplyTrouble::Syntax {
                line: 1 + ftl_source.bytes().take(error.pos.start).filter(|&byte| byte == b'\n').count(),
                what: error.to_string(),
            };
            errors.into_iter().map(trouble).collect::<Vec<_>>()
        })?;
        let (asks, mut troubles) = asks::of_resource(&resource);
        let mut bundle = FluentBundle::new_concurrent(vec![language]);
        // The marks that isolate would put around each value are not in the network's alphabet.
        bundle.set_use_isolating(false);
        for error in bundle.add_resource(resource).err().unwrap_or_default() {
            troubles.push(match error {
                FluentError::Overriding { id, .. } => ReplyTrouble::Duplicate { key: id },
                other => ReplyTrouble::Unresolved { key: code.into(), what: other.to_string() },
            });
        }
        if troubles.is_empty() { Ok(Replies { bundle, asks }) } else { Err(troubles) }
    }

    /// Every key with the lengths in which it is worded.
    pub fn keys(&self) -> impl Iterator<Item = (&str, impl Iterator<Item = Length>)> {
        self.asks.iter().map(|(key, lengths)| (key.as_str(), lengths.keys().copied()))
    }

    /// One wording of a reply. Values that it does not ask for are passed over.
    ///
    /// # Errors
    /// No such key or length; a value that any branch of the wording asks for is missing, or cannot be chosen by.
    pub fn format(&self, key: &str, length: Length, values: &[(&str, Value<'_>)]) -> Result<String, ReplyTrouble> {
        let lengths = self.asks.get(key).ok_or_else(|| ReplyTrouble::MissingKey { key: key.into() })?;
        let missing_length = || ReplyTrouble::MissingLength { key: key.into(), length };
        let asks = lengths.get(&length).ok_or_else(missing_length)?;
        asks.met_by(key, values)?;

        let message = self.bundle.get_message(key).ok_or_else(missing_length)?;
        let pattern = match length.attribute() {
            None => message.value(),
            Some(attribute) => message.get_attribute(attribute).map(|attribute| attribute.value()),
        };
        let pattern = pattern.ok_or_else(missing_length)?;
        let args: FluentArgs = values
            .iter()
            .map(|(name, value)| match value {
                Value::Text(text) => (*name, FluentValue::from(text.as_ref())),
                Value::Count(count) => (*name, FluentValue::from(*count)),
            })
            .collect();
        let mut errors = Vec::new();
        let text = self.bundle.format_pattern(pattern, Some(&args), &mut errors).into_owned();
        match errors.first() {
            None => Ok(text),
            Some(error) => Err(ReplyTrouble::Unresolved { key: key.into(), what: error.to_string() }),
        }
    }

    /// Every wording of a reply, from long to short.
    ///
    /// # Errors
    /// As [`Replies::format`].
    pub fn wordings(&self, key: &str, values: &[(&str, Value<'_>)]) -> Result<Vec<String>, ReplyTrouble> {
        let lengths = self.asks.get(key).ok_or_else(|| ReplyTrouble::MissingKey { key: key.into() })?;
        lengths.keys().map(|&length| self.format(key, length, values)).collect()
    }
}

impl fmt::Debug for Replies {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Replies").field("locales", &self.bundle.locales).field("asks", &self.asks).finish()
    }
}
