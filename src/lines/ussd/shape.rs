//! A gateway's call as what was keyed, and a screen as the answer that the gateway wants.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use axum::Json;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value};

use crate::config::{CallShape, InputHolds, ReplyForm, ReplyShape};
use crate::lines::decode::Fields;
use crate::number::Number;
use crate::refusal::Refusal;

/// Sessions are over within minutes on every network (practice).
const SESSION_LIFE: Duration = Duration::from_secs(600);

/// More sessions at once than this and the oldest are taken for over.
const SESSIONS_MAX: usize = 20_000;

/// One call of a session.
pub struct Keyed {
    pub session: String,
    pub from: Number,
    /// What was keyed this time; empty on dialling.
    pub text: String,
    /// The call's own name, where the gateway gives one or where one follows from what it sends.
    pub call: Option<String>,
    /// The network says that the session is over: nobody reads an answer.
    pub is_over: bool,
}

/// Sessions that have begun, so that what is dialled at once is told from what is keyed later.
#[derive(Default)]
pub struct Sessions(Mutex<HashMap<String, Instant>>);

impl Sessions {
    /// Whether this is the session's first call, as far as this process has seen.
    fn begins(&self, session: &str, now: Instant) -> bool {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= SESSIONS_MAX {
            known.retain(|_, at| now.duration_since(*at) < SESSION_LIFE);
        }
        if known.len() >= SESSIONS_MAX {
            known.clear();
        }
        let before = known.insert(session.to_owned(), now);
        before.is_none_or(|at| now.duration_since(at) >= SESSION_LIFE)
    }
}

/// Reads a call; `number` is our own short code, which stands before what was dialled at once.
pub fn read(fields: &Fields, shape: &CallShape, number: &str, sessions: &Sessions) -> Result<Keyed, Refusal> {
    let session = fields.id(&shape.session)?;
    let from = from(fields, shape)?;
    let input = fields.optional(&shape.input)?;
    let flag = if shape.flag.is_empty() { "" } else { fields.optional(&shape.flag)? };
    let code = if shape.code.is_empty() { "" } else { fields.text(&shape.code)? };
    let is_first = sessions.begins(&session, Instant::now());
    let begins = if flag == shape.begin && !flag.is_empty() { true } else { is_first && flag != shape.going };
    let text = match begins {
        true => dialled(input, code, number),
        false if shape.input_holds == InputHolds::All => input.rsplit('*').next().unwrap_or_default().to_owned(),
        false => input.to_owned(),
    };
    let told = if shape.call.is_empty() { None } else { Some(fields.id(&shape.call)?) };
    // What was keyed so far is longer from call to call: the same again is the same call.
    let follows = (shape.input_holds == InputHolds::All).then(|| format!("keyed {input}"));
    let is_over = !flag.is_empty() && flag == shape.end;
    Ok(Keyed { session, from, text, call: told.or(follows), is_over })
}

/// What a first call brings: nothing, or a whole sheet dialled at once (`*150*3*30*300*900#`) as the numbers of one message.
fn dialled(input: &str, code: &str, number: &str) -> String {
    let keys = |dialled: &str| {
        let inner = dialled.trim().trim_start_matches('*').trim_end_matches('#');
        let inner = inner.strip_prefix(number).map_or(inner, |rest| rest.trim_start_matches('*'));
        inner.split('*').filter(|key| !key.is_empty()).map(str::to_owned).collect::<Vec<_>>()
    };
    let given = [input, code].into_iter().map(keys).find(|keys| keys.len() > 1);
    match given {
        Some(keys) => keys.join(" "),
        None if input.trim_start().starts_with('*') || input == number => String::new(),
        None => input.to_owned(),
    }
}

/// The caller's number in E.164: many gateways leave out the plus, some the country as well.
fn from(fields: &Fields, shape: &CallShape) -> Result<Number, Refusal> {
    let given = fields.address(&shape.from)?;
    let given = given.trim();
    let full = if given.starts_with('+') {
        given.to_owned()
    } else if let Some(rest) = given.strip_prefix("00") {
        format!("+{rest}")
    } else if let Some(rest) = given.strip_prefix('0').filter(|_| !shape.prefix.is_empty()) {
        format!("{}{rest}", shape.prefix)
    } else if !shape.prefix.is_empty() && !given.starts_with(&shape.prefix[1..]) {
        format!("{}{given}", shape.prefix)
    } else {
        format!("+{given}")
    };
    let what = |reason| Refusal::field(&shape.from, format!("The field {} is no phone number: {reason}.", shape.from));
    Number::parse(&full).map_err(what)
}

/// A screen in the gateway's form.
pub fn answer(text: String, more: bool, shape: &ReplyShape) -> Response {
    if shape.form == ReplyForm::Plain {
        let flag = if more { "CON" } else { "END" };
        return ([(header::CONTENT_TYPE, "text/plain; charset=utf-8")], format!("{flag} {text}")).into_response();
    }
    let flag = if more { &shape.goes_on } else { &shape.ends };
    let flag = match flag.as_str() {
        "true" => Value::Bool(true),
        "false" => Value::Bool(false),
        text => Value::String(text.to_owned()),
    };
    let object: Map<String, Value> =
        [(shape.text.clone(), Value::String(text)), (shape.more.clone(), flag)].into_iter().collect();
    Json(Value::Object(object)).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderMap;

    fn fields(form: &str) -> Fields {
        let mut headers = HeaderMap::new();
        headers.insert(header::CONTENT_TYPE, "application/x-www-form-urlencoded".parse().unwrap());
        Fields::decode(&headers, form.as_bytes()).unwrap()
    }

    #[test]
    fn keys_that_are_sent_all_together_are_taken_one_by_one() {
        let shape = CallShape { input_holds: InputHolds::All, ..CallShape::default() };
        let sessions = Sessions::default();
        let keyed = |input: &str| {
            let form = format!("session=s-1&from=%2B447700900301&code=150&input={input}");
            read(&fields(&form), &shape, "150", &sessions).unwrap().text
        };
        assert_eq!([keyed(""), keyed("1"), keyed("1*3"), keyed("1*3*30")], ["", "1", "3", "30"]);
    }

    #[test]
    fn a_sheet_dialled_at_once_is_its_numbers_whichever_field_holds_it() {
        let shape = CallShape::default();
        for (index, (code, input)) in
            [("*150*3*30*300*900#", ""), ("*150#", "*150*3*30*300*900#"), ("*150#", "3*30*300*900")].into_iter().enumerate()
        {
            let code = code.replace('#', "%23");
            let form = format!("session=d-{index}&from=%2B447700900301&code={code}&input={}", input.replace('#', "%23"));
            let keyed = read(&fields(&form), &shape, "150", &Sessions::default()).unwrap();
            assert_eq!(keyed.text, "3 30 300 900", "{code} {input}");
        }
        let form = "session=d&from=%2B447700900301&code=*150%23&input=*150%23";
        assert_eq!(read(&fields(form), &shape, "150", &Sessions::default()).unwrap().text, "");
    }

    #[test]
    fn a_number_is_read_with_what_the_gateway_leaves_out() {
        let shape = CallShape { prefix: "+44".to_owned(), ..CallShape::default() };
        for given in ["%2B447700900301", "447700900301", "00447700900301", "07700900301", "7700900301"] {
            let form = format!("session=s&from={given}&code=150&input=");
            let keyed = read(&fields(&form), &shape, "150", &Sessions::default()).unwrap();
            assert_eq!(keyed.from.as_str(), "+447700900301", "{given}");
        }
        let bare = CallShape::default();
        let form = "session=s&from=447700900301&code=150&input=";
        assert_eq!(read(&fields(form), &bare, "150", &Sessions::default()).unwrap().from.as_str(), "+447700900301");
    }
}
