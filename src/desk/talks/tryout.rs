//! A phone on the page, in any language and at any place, that keeps nothing: the talk travels in the form.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, State};
use axum::response::Response;
use chrono::Utc;
use serde::{Deserialize, Serialize};

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::state::Desk;
use crate::desk::talks::talk::language_of;
use crate::reply::PhoneText;
use crate::talk::{Channel, Known, Talk};
use crate::turn::{World, turn};

/// Ten parts of the longest kind, as a phone.
const TEXT_MOST: usize = 1600;

/// So many messages are shown and carried on.
const LINES_MOST: usize = 40;

#[derive(Deserialize)]
pub struct Typed {
    #[serde(default)]
    text: String,
    language: String,
    place: String,
    /// The talk so far and what was said in it. Whoever changes it changes nothing but this page.
    #[serde(default)]
    carried: String,
    #[serde(default)]
    again: Option<String>,
}

/// What the form carries from one message to the next.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Carried {
    talk: Talk,
    lines: Vec<Line>,
}

#[derive(Serialize, Deserialize)]
struct Line {
    said: bool,
    text: String,
    parts: usize,
}

#[derive(Template)]
#[template(path = "look/tryout.html", config = "src/askama.toml")]
struct TryPage<'a> {
    frame: Frame<'a>,
    lines: &'a [Line],
    languages: Vec<(&'a str, &'a str)>,
    language: &'a str,
    places: Vec<&'a str>,
    place: &'a str,
    carried: String,
    /// What was typed and not taken.
    text: &'a str,
    problem: Option<&'a str>,
}

pub async fn show_phone(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    let world = desk.world();
    let (language, place) = (world.home_language.clone(), world.home_place.clone());
    page(&world, &member, (&language, &place), &Carried::default(), ("", None))
}

pub async fn say(State(desk): State<Arc<Desk>>, member: Member, Form(typed): Form<Typed>) -> Result<Response, Fault> {
    let world = desk.world();
    let language = language_of(&world, Some(&typed.language))?;
    let place = if world.place(&typed.place).is_some() { typed.place.clone() } else { world.home_place.clone() };
    let carried = serde_json::from_str::<Carried>(&typed.carried).ok().filter(|_| typed.again.is_none());
    let mut carried = carried.unwrap_or_else(|| {
        let known = Known { place: Some(place.clone()), ..Known::default() };
        Carried { talk: Talk { language: Some(language.code.clone()), known, ..Talk::default() }, lines: Vec::new() }
    });
    let (mut problem, mut rest) = (None, String::new());
    if typed.text.chars().count() > TEXT_MOST {
        problem = Some("The text is longer than ten parts; write less.");
        rest.clone_from(&typed.text);
    } else if typed.again.is_none() {
        carried.talk.known.place.get_or_insert_with(|| place.clone());
        let step = turn(&world, &carried.talk, &typed.text, Channel::Sms, Utc::now());
        let parts = PhoneText::new(typed.text.as_str()).parts;
        carried.lines.push(Line { said: true, text: typed.text, parts });
        carried.lines.extend(step.reply.map(|reply| Line { said: false, text: reply.text, parts: reply.parts }));
        carried.talk = step.talk;
        let old = carried.lines.len().saturating_sub(LINES_MOST);
        carried.lines.drain(..old);
    }
    page(&world, &member, (&language.code, &place), &carried, (&rest, problem))
}

/// The page in a language and at a place, with what was typed and not taken, and why.
fn page(
    world: &World,
    member: &Member,
    (language, place): (&str, &str),
    carried: &Carried,
    (text, problem): (&str, Option<&str>),
) -> Result<Response, Fault> {
    let page = TryPage {
        frame: Frame::new("Try out", Some(member)),
        lines: &carried.lines,
        languages: world.languages.iter().map(|each| (each.code.as_str(), each.name.as_str())).collect(),
        language,
        places: world.place_names().collect(),
        place,
        carried: serde_json::to_string(carried).map_err(|_| Fault::Failed)?,
        text,
        problem,
    };
    if problem.is_some() { show_wrong(&page) } else { show(&page) }
}
