//! The shape of a menu gateway's calls and of the answers it wants: names, forms and flags differ from one to another.

use serde::Deserialize;

/// How the gateway calls for each thing keyed.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CallShape {
    pub method: CallMethod,
    /// The names of its fields.
    pub session: String,
    pub from: String,
    /// What was dialled; a gateway that does not tell leaves it out.
    pub code: String,
    pub input: String,
    /// A field that differs from call to call, so that a repeated call is known as such; none without a name.
    pub call: String,
    /// A field that tells whether the session begins, goes on or has ended; none without a name.
    pub flag: String,
    pub begin: String,
    pub going: String,
    pub end: String,
    pub input_holds: InputHolds,
    /// Put before numbers that come without a plus and a country code, such as `+265`; without it they get the plus alone.
    pub prefix: String,
    /// Where the shared secret stands: `bearer`, `basic`, `header NAME` or `query NAME`.
    pub secret_in: String,
}

impl Default for CallShape {
    fn default() -> Self {
        let own = |name: &str| name.to_owned();
        Self {
            method: CallMethod::Post,
            session: own("session"),
            from: own("from"),
            code: own("code"),
            input: own("input"),
            call: String::new(),
            flag: String::new(),
            begin: own("begin"),
            going: own("continue"),
            end: own("end"),
            input_holds: InputHolds::Last,
            prefix: String::new(),
            secret_in: own("bearer"),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum CallMethod {
    Post,
    /// The fields stand in the query.
    Get,
}

/// What the gateway's input holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum InputHolds {
    /// What was keyed this time.
    Last,
    /// Everything keyed in the session, parted by `*`.
    All,
}

/// The answer that the gateway wants.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ReplyShape {
    pub form: ReplyForm,
    /// The names of its JSON fields.
    pub text: String,
    pub more: String,
    /// What the second says while the session goes on and when it ends; `true` and `false` are sent as such.
    pub goes_on: String,
    pub ends: String,
}

impl Default for ReplyShape {
    fn default() -> Self {
        let own = |name: &str| name.to_owned();
        Self { form: ReplyForm::Json, text: own("text"), more: own("more"), goes_on: own("true"), ends: own("false") }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ReplyForm {
    Json,
    /// Plain text that begins with CON while the session goes on and with END when it ends.
    Plain,
}

/// Where a shared secret stands in a call.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SecretIn {
    Bearer,
    /// As the password; the user's name says nothing.
    Basic,
    Header(String),
    Query(String),
}

impl CallShape {
    /// Where the secret stands; None for a text that names no place.
    pub fn secret_in(&self) -> Option<SecretIn> {
        let mut words = self.secret_in.split_whitespace();
        let place = match (words.next()?, words.next()) {
            ("bearer", None) => SecretIn::Bearer,
            ("basic", None) => SecretIn::Basic,
            ("header", Some(name)) => SecretIn::Header(name.to_ascii_lowercase()),
            ("query", Some(name)) => SecretIn::Query(name.to_owned()),
            _ => return None,
        };
        words.next().is_none().then_some(place)
    }

    /// The key that is wrong and what to write instead.
    pub fn fault(&self) -> Option<(&'static str, &'static str)> {
        let needed = [("session", &self.session), ("from", &self.from), ("input", &self.input)];
        if let Some((key, _)) = needed.into_iter().find(|(_, name)| name.is_empty()) {
            return Some((key, "write the name of the gateway's field"));
        }
        if self.secret_in().is_none() {
            return Some(("secret_in", "write bearer, basic, header NAME or query NAME"));
        }
        let digits = self.prefix.strip_prefix('+');
        let is_prefix = digits.is_some_and(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()));
        (!self.prefix.is_empty() && !is_prefix).then_some(("prefix", "write + and the country code"))
    }
}

impl ReplyShape {
    /// The key that is wrong and what to write instead.
    pub fn fault(&self) -> Option<(&'static str, &'static str)> {
        let is_named = !self.text.is_empty() && !self.more.is_empty() && self.text != self.more;
        (self.form == ReplyForm::Json && !is_named).then_some(("text", "write two different names, also as `more`"))
    }
}
