//! The body of a gateway's call, JSON or form, as named texts.

use std::collections::BTreeMap;

use axum::http::{HeaderMap, StatusCode, header};
use chrono::{DateTime, Utc};
use serde_json::Value;

use crate::number::Number;
use crate::refusal::Refusal;

/// The longest name that a gateway may give a message, characters.
const ID_MAX: usize = 200;

/// Fields by the gateway's own names.
pub struct Fields {
    values: BTreeMap<String, Value>,
    is_form: bool,
}

impl Fields {
    pub fn decode(headers: &HeaderMap, body: &[u8]) -> Result<Self, Refusal> {
        let kind = headers.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
        let kind = kind.split(';').next().unwrap_or_default().trim().to_ascii_lowercase();
        match kind.as_str() {
            "application/json" => match serde_json::from_slice(body) {
                Ok(Value::Object(object)) => Ok(Self { values: object.into_iter().collect(), is_form: false }),
                Ok(_) => Err(Refusal::field("body", "Send one JSON object.")),
                Err(error) => {
                    let place = format!("line {}, column {}", error.line(), error.column());
                    Err(Refusal::field("body", format!("This is not JSON at {place}; send one JSON object.")))
                }
            },
            "application/x-www-form-urlencoded" => Ok(Self::of_query(&String::from_utf8_lossy(body))),
            _ => Err(Refusal::new(
                StatusCode::UNSUPPORTED_MEDIA_TYPE,
                "wrong_content_type",
                "Send application/json or application/x-www-form-urlencoded.",
            )),
        }
    }

    pub fn text(&self, name: &str) -> Result<&str, Refusal> {
        match self.values.get(name) {
            Some(Value::String(text)) => Ok(text),
            None | Some(Value::Null) => Err(Refusal::field(name, format!("The field {name} is missing; send it."))),
            Some(_) => Err(Refusal::field(name, format!("The field {name} is not a text; send a JSON string."))),
        }
    }

    /// A text that may be left out, which is as good as empty.
    pub fn optional(&self, name: &str) -> Result<&str, Refusal> {
        match self.values.get(name) {
            None | Some(Value::Null) => Ok(""),
            Some(_) => self.text(name),
        }
    }

    /// The fields of a query.
    pub fn of_query(query: &str) -> Self {
        let pairs = form_urlencoded::parse(query.as_bytes());
        let values = pairs.map(|(name, value)| (name.into_owned(), Value::String(value.into_owned())));
        Self { values: values.collect(), is_form: true }
    }

    /// A message's name: a text, or a whole number as some gateways count.
    pub fn id(&self, name: &str) -> Result<String, Refusal> {
        let id = match self.values.get(name) {
            Some(Value::Number(number)) if !number.is_f64() => number.to_string(),
            _ => self.text(name)?.to_owned(),
        };
        let is_good = !id.is_empty() && id.chars().count() <= ID_MAX && !id.chars().any(char::is_control);
        if is_good {
            Ok(id)
        } else {
            Err(Refusal::field(name, format!("The field {name} must be 1 to {ID_MAX} printable characters.")))
        }
    }

    /// A phone number or a short code as text. In a form a bare `+` means a space, and gateways forget to encode it.
    pub fn address(&self, name: &str) -> Result<String, Refusal> {
        let text = self.text(name)?;
        Ok(match text.strip_prefix(' ') {
            Some(digits) if self.is_form => format!("+{digits}"),
            _ => text.to_owned(),
        })
    }

    pub fn number(&self, name: &str) -> Result<Number, Refusal> {
        let number = Number::parse(&self.address(name)?);
        number.map_err(|reason| Refusal::field(name, format!("The field {name} is no phone number: {reason}.")))
    }

    pub fn time(&self, name: &str) -> Result<Option<DateTime<Utc>>, Refusal> {
        match self.values.get(name) {
            None | Some(Value::Null) => return Ok(None),
            Some(Value::String(text)) if text.is_empty() => return Ok(None),
            Some(_) => {}
        }
        // PostgreSQL's times are narrower than RFC 3339's, and no message was sent outside these years.
        let is_plausible = |time: &DateTime<Utc>| (1970..=9999).contains(&chrono::Datelike::year(time));
        let time = DateTime::parse_from_rfc3339(self.text(name)?).map(|time| time.to_utc()).ok().filter(is_plausible);
        let what = || format!("The field {name} is no time; send RFC 3339, such as 2026-03-01T06:30:00Z.");
        time.map(Some).ok_or_else(|| Refusal::field(name, what()))
    }
}
