//! In and out.

use std::sync::Arc;
use std::time::Duration;

use askama::Template;
use axum::extract::{Form, Query, State};
use axum::http::header::{HeaderMap, SET_COOKIE};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;
use tracing::info;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::staff::door::{COOKIE_NAME, session_key};
use crate::desk::staff::names::NAME_MOST;
use crate::desk::staff::noticed::NOBODY;
use crate::desk::staff::origin::Origin;
use crate::desk::staff::password::{key_hash, new_key};
use crate::desk::state::Desk;
use crate::meters;

/// After so many seconds a turn is free again where many sign in at once.
const BUSY_S: i64 = 5;

/// A working day.
const SESSION: Duration = Duration::from_secs(12 * 3600);

#[derive(Template)]
#[template(path = "look/sign_in.html", config = "src/askama.toml")]
struct SignInPage<'a> {
    frame: Frame<'a>,
    name: &'a str,
    then: &'a str,
    problem: Option<String>,
}

#[derive(Deserialize)]
pub struct Asked {
    #[serde(default)]
    then: String,
}

#[derive(Deserialize)]
pub struct Typed {
    name: String,
    password: String,
    #[serde(default)]
    then: String,
}

pub async fn show_form(Query(asked): Query<Asked>) -> Result<Response, Fault> {
    show(&SignInPage { frame: Frame::new("Sign in", None), name: "", then: &asked.then, problem: None })
}

const WRONG: &str = "The name or the password is wrong; write both again.";

pub async fn sign_in(
    State(desk): State<Arc<Desk>>,
    from: Origin,
    headers: HeaderMap,
    Form(typed): Form<Typed>,
) -> Result<Response, Fault> {
    let refuse = |problem: String| {
        let frame = Frame::new("Sign in", None);
        show_wrong(&SignInPage { frame, name: &typed.name, then: &typed.then, problem: Some(problem) })
    };
    let now = Utc::now();
    let name: String = typed.name.replace('\0', "").chars().take(NAME_MOST).collect();
    let put_off = |wait_s: i64| {
        meters::signed_in("put_off");
        desk.noticed.count(NOBODY, "was put off at sign-in", &from.to_string(), 1);
        refuse(format!("Too many tries from here; try again in {wait_s} s."))
    };
    if let Err(wait_s) = desk.tries.check(from) {
        return put_off(wait_s);
    }
    let address = from.to_string();
    let not_before = desk.store.sign_in_not_before(&name, &address).await?;
    if let Some(not_before) = not_before.filter(|not_before| *not_before > now) {
        return put_off((not_before - now).num_seconds() + 1);
    }
    // Counted before the password is looked at, so that many tries at once are all counted.
    desk.store.sign_in_failed(&name, &address, now).await?;
    let secret = desk.store.staff_secret(&name).await?;
    let hash = secret.as_ref().map(|secret| secret.password.clone());
    let Ok(is_right) = desk.hashing.verify(typed.password.clone(), hash).await else { return put_off(BUSY_S) };
    let who = secret.as_ref().map_or(NOBODY, |secret| secret.name.as_str()).to_owned();
    let wrong = || {
        meters::signed_in("wrong");
        desk.noticed.count(&who, "gave a wrong password", &address, 1);
        refuse(WRONG.to_owned())
    };
    let Some(secret) = secret.filter(|_| is_right) else { return wrong() };
    let key = new_key().map_err(|_| Fault::Failed)?;
    let mut step = desk.store.begin().await?;
    if !step.begin_session(&secret, &key_hash(&key), now, SESSION).await? {
        // The password was changed, or the account closed, while it was looked at.
        drop(step);
        return wrong();
    }
    step.forgive(&name, &address).await?;
    step.note(&secret.name, "signed in", "", now).await?;
    step.commit().await?;
    meters::signed_in("right");
    info!(staff = %secret.id, "signed in");
    let then = if typed.then.starts_with("/desk/") { typed.then.as_str() } else { "/desk/waiting" };
    let cookie = cookie(&key, SESSION.as_secs(), &headers);
    Ok(([(SET_COOKIE, cookie)], Redirect::to(then)).into_response())
}

pub async fn sign_out(State(desk): State<Arc<Desk>>, headers: HeaderMap) -> Result<Response, Fault> {
    if let Some(key) = session_key(&headers)
        && let Some(name) = desk.store.end_session(&key_hash(key)).await?
    {
        let mut step = desk.store.begin().await?;
        step.note(&name, "signed out", "", Utc::now()).await?;
        step.commit().await?;
        desk.sessions_ended();
    }
    Ok(signed_out(&headers))
}

/// To the sign-in, without a session.
pub fn signed_out(headers: &HeaderMap) -> Response {
    ([(SET_COOKIE, cookie("", 0, headers))], Redirect::to("/desk/sign-in")).into_response()
}

/// Sent to this site alone, from its own pages alone, and out of reach of scripts; behind TLS only by TLS.
fn cookie(key: &str, seconds: u64, headers: &HeaderMap) -> String {
    let secure = if is_tls(headers) { "; Secure" } else { "" };
    format!("{COOKIE_NAME}={key}; Path=/; HttpOnly; SameSite=Strict; Max-Age={seconds}{secure}")
}

/// Whether the browser reached the outermost proxy by TLS, as proxies say it: `X-Forwarded-Proto`, a list of its values where
/// there are several proxies, or `Forwarded` (RFC 7239). In doubt TLS: one hop of several is enough.
fn is_tls(headers: &HeaderMap) -> bool {
    let texts = |name| headers.get_all(name).iter().filter_map(|value| value.to_str().ok());
    let is_https = |word: &str| word.trim().trim_matches('"').eq_ignore_ascii_case("https");
    let forwarded_for = |text: &str| {
        text.split([',', ';'])
            .filter_map(|pair| pair.trim().split_once('='))
            .any(|(name, value)| name.trim().eq_ignore_ascii_case("proto") && is_https(value))
    };
    texts("x-forwarded-proto").any(|text| text.split(',').any(is_https)) || texts("forwarded").any(forwarded_for)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_in_which_a_proxy_says_tls_is_heard() {
        let says = |name: &'static str, value: &'static str| {
            let mut headers = HeaderMap::new();
            headers.insert(name, value.parse().unwrap());
            is_tls(&headers)
        };
        for value in ["https", "HTTPS", " https ", "https, http", "http,https"] {
            assert!(says("x-forwarded-proto", value), "{value}");
        }
        // The second is an example of RFC 7239, section 4.
        for value in ["proto=https", "for=192.0.2.60;proto=https;by=203.0.113.43", "for=a, for=b; Proto=\"https\""] {
            assert!(says("forwarded", value), "{value}");
        }
        for (name, value) in
            [("x-forwarded-proto", "http"), ("forwarded", "for=https;proto=http"), ("x-other", "https"), ("forwarded", "")]
        {
            assert!(!says(name, value), "{name}: {value}");
        }
    }
}
