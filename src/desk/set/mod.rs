//! One set on a page, from a message's text: where pump and pipe meet, the bright day, the year, the pipe, what it
//! costs against petrol.

pub mod advice;
mod costs;
mod curves;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use chrono::Utc;
use serde::Deserialize;
use uuid::Uuid;

use crate::desk::frame::chart::Figure;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::state::Desk;
use crate::message::read;
use crate::single::refused_value;
use crate::talk::{Depth, Known, answer_sheet, tell_fact};
use crate::turn::World;
use advice::{AdviceView, view, why_none};
use costs::Costs;
use curves::Curves;

/// As much of a text as a grower may send.
const TEXT_MOST: usize = 1600;

#[derive(Deserialize)]
pub struct Asked {
    #[serde(default)]
    text: String,
    /// The grower whose bucket tests count too.
    talk: Option<Uuid>,
}

#[derive(Template)]
#[template(path = "look/set.html", config = "src/askama.toml")]
struct SetPage<'a> {
    frame: Frame<'a>,
    text: &'a str,
    talk: Option<Uuid>,
    advice: Option<Result<AdviceView, String>>,
    figures: Vec<Figure>,
    costs: Option<Costs>,
    problem: Option<String>,
}

/// What a text tells, or why a value of it was not taken.
fn known_of(world: &World, text: &str) -> Result<Known, String> {
    let reading = read(text, &world.languages, &world.home_language, None);
    if let Some(refused) = reading.troubles.iter().find(|trouble| trouble.code.is_refusal()) {
        return Err(refused_value(refused).message);
    }
    let mut known = Known::default();
    reading.facts.iter().for_each(|fact| tell_fact(world, &mut known, &fact.value, Utc::now()));
    Ok(known)
}

pub async fn show_set(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let world = desk.world();
    let text: String = asked.text.chars().take(TEXT_MOST).collect();
    let key = match asked.talk {
        Some(grower) => desk.store.talk_key(grower, Utc::now()).await?,
        None => None,
    };
    let talk = match key {
        Some(key) => Some(desk.store.talk_of(&key.number).await?),
        None => None,
    };
    let worked = (!text.trim().is_empty()).then(|| {
        let mut known = known_of(&world, &text)?;
        // A test in the text stands for those of the talk.
        if let Some(talk) = talk.as_ref().filter(|_| known.tests.is_empty()) {
            known.carry_tests(&talk.known, Utc::now());
        }
        let advice = answer_sheet(&world, &known, Depth::WithFixes)
            .map_err(|error| format!("No advice: {}.", why_none(&world, &error)))?;
        let climate = world.place(&advice.sheet.place).ok_or_else(|| "the place is gone; name another".to_owned())?;
        let curves = Curves::of(&advice, &climate).map_err(|error| error.to_string())?;
        Ok::<_, String>((view(&world, &advice), curves.figures(&advice), Costs::of(&advice)))
    });
    let frame = Frame::new("One set", Some(&member));
    let mut page = SetPage {
        frame,
        text: &text,
        talk: asked.talk.filter(|_| talk.is_some()),
        advice: None,
        figures: Vec::new(),
        costs: None,
        problem: None,
    };
    match worked {
        None => {}
        Some(Ok((advice, figures, costs))) => {
            (page.advice, page.figures, page.costs) = (Some(Ok(advice)), figures, Some(costs));
        }
        Some(Err(problem)) => {
            page.problem = Some(problem);
            return show_wrong(&page);
        }
    }
    show(&page)
}
