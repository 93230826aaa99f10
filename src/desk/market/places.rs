//! Places: seen month by month; added, changed value by value, brought in, taken away and taken out by those who run the
//! place, with the checks of every place file.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Multipart, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;

use crate::desk::frame::cell::{Typed, text_of};
use crate::desk::frame::chart::Figure;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::{Frame, download};
use crate::desk::frame::pasted::pasted;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::market::climate::figures;
use crate::desk::market::place_form::PlaceForm;
use crate::desk::state::Desk;
use crate::placefile::{self, export};
use crate::sizing::{Climate, Place};
use crate::spot;
use crate::turn::World;
use crate::world::row_of;

#[derive(Template)]
#[template(path = "look/places.html", config = "src/askama.toml")]
struct PlacesPage<'a> {
    frame: Frame<'a>,
    places: Vec<Place>,
    home: &'a str,
    text: &'a str,
    problem: Option<String>,
}

#[derive(Template)]
#[template(path = "look/place.html", config = "src/askama.toml")]
struct PlacePage<'a> {
    frame: Frame<'a>,
    place: &'a Place,
    figures: Vec<Figure>,
    form: PlaceForm,
    /// A place of the deployment; others are shown from the atlas.
    is_own: bool,
    is_home: bool,
    problem: Option<String>,
}

#[derive(Template)]
#[template(path = "look/new_place.html", config = "src/askama.toml")]
struct NewPlacePage<'a> {
    frame: Frame<'a>,
    from: &'a str,
    form: PlaceForm,
    problem: Option<String>,
    from_problem: Option<String>,
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, "", None)
}

fn page(desk: &Desk, member: &Member, text: &str, problem: Option<String>) -> Result<Response, Fault> {
    let world = desk.world();
    let places = world.place_names().filter_map(|name| world.place(name)).map(|climate| climate.place.clone()).collect();
    let is_wrong = problem.is_some();
    let page = PlacesPage { frame: Frame::new("Places", Some(member)), places, home: &world.home_place, text, problem };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

/// Takes a place file: a new place, or another climate of one that is there.
pub async fn import(State(desk): State<Arc<Desk>>, member: Member, form: Multipart) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let text = pasted(form).await?;
    match placefile::parse_any(&text) {
        Ok(climate) => put(&desk, &member, &climate.place, "brought in a place").await,
        Err(error) => page(&desk, &member, &text, Some(format!("Nothing was changed: {error}."))),
    }
}

async fn put(desk: &Desk, member: &Member, place: &Place, did: &str) -> Result<Response, Fault> {
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    step.put_place(&row_of(place)?, now).await?;
    step.note(&member.name, did, place.name.trim(), now).await?;
    step.commit().await?;
    desk.world_changed().await;
    Ok(Redirect::to(&path_of(&place.name)).into_response())
}

fn path_of(name: &str) -> String {
    let name: String = form_urlencoded::byte_serialize(name.trim().as_bytes()).collect();
    format!("/desk/places/{}", name.replace('+', "%20"))
}

fn is_own(world: &World, name: &str) -> bool {
    world.place_names().any(|own| own == name)
}

fn is_home(world: &World, name: &str) -> bool {
    world.home_place.trim().to_lowercase() == name.trim().to_lowercase()
}

pub async fn show_place(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(name): Path<String>,
) -> Result<Response, Fault> {
    one(&desk, &member, &name, None, None)
}

fn one(
    desk: &Desk,
    member: &Member,
    name: &str,
    form: Option<PlaceForm>,
    problem: Option<String>,
) -> Result<Response, Fault> {
    let world = desk.world();
    let climate = world.place(name).ok_or(Fault::NotFound)?;
    let place = &climate.place;
    let is_wrong = problem.is_some();
    let page = PlacePage {
        frame: Frame::new(&place.name, Some(member)),
        place,
        figures: figures(&climate),
        form: form.unwrap_or_else(|| PlaceForm::of_place(place)),
        is_own: is_own(&world, &place.name),
        is_home: is_home(&world, &place.name),
        problem,
    };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(name): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let world = desk.world();
    let climate: Climate = world.place(&name).ok_or(Fault::NotFound)?.into_owned();
    let own = climate.place.name;
    if !is_own(&world, &own) {
        return Err(Fault::NotFound);
    }
    if text_of(&typed, "do") == "remove" {
        if is_home(&world, &own) {
            let problem = "The hotline’s own place stays: growers who name no place are there.".to_owned();
            return one(&desk, &member, &own, None, Some(problem));
        }
        let now = Utc::now();
        let mut step = desk.store.begin().await?;
        if !step.remove_place(&own).await? {
            return Err(Fault::NotFound);
        }
        step.note(&member.name, "took out a place", &own, now).await?;
        step.commit().await?;
        desk.world_changed().await;
        return Ok(Redirect::to("/desk/places").into_response());
    }
    let mut form = PlaceForm::of(&typed);
    match form.read(&own) {
        Ok(place) => put(&desk, &member, &place, "changed a place").await,
        Err(problem) => one(&desk, &member, &own, Some(form), Some(problem)),
    }
}

#[derive(Deserialize)]
pub struct From {
    #[serde(default)]
    from: String,
}

pub async fn show_new(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(From { from }): Query<From>,
) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let world = desk.world();
    let found = (!from.trim().is_empty()).then(|| world.place(&from));
    let from_problem = matches!(found, Some(None)).then(|| {
        format!("Nothing is known of “{}”; write a town of the atlas, or degrees such as -8.2 35.1 1200m.", from.trim())
    });
    let mut form =
        found.flatten().map_or_else(|| PlaceForm::of(&Typed::new()), |climate| PlaceForm::of_place(&climate.place));
    if spot::parse(&form.name.value).is_some() {
        // Degrees are no name.
        form.name.value.clear();
    }
    new(&member, &from, form, None, from_problem)
}

fn new(
    member: &Member,
    from: &str,
    form: PlaceForm,
    problem: Option<String>,
    from_problem: Option<String>,
) -> Result<Response, Fault> {
    let is_wrong = problem.is_some() || from_problem.is_some();
    let page = NewPlacePage { frame: Frame::new("A new place", Some(member)), from, form, problem, from_problem };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

pub async fn add(State(desk): State<Arc<Desk>>, member: Member, Form(typed): Form<Typed>) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let mut form = PlaceForm::of(&typed);
    match form.read(text_of(&typed, "name")) {
        Ok(place) if desk.store.begin().await?.has_place(&place.name).await? => {
            let problem = format!("A place named {} is there; choose another name, or open it to change it.", place.name);
            new(&member, "", form, Some(problem), None)
        }
        Ok(place) => put(&desk, &member, &place, "added a place").await,
        Err(problem) => new(&member, "", form, Some(problem), None),
    }
}

pub async fn export(State(desk): State<Arc<Desk>>, _member: Member, Path(name): Path<String>) -> Result<Response, Fault> {
    let world = desk.world();
    let climate = world.place(&name).ok_or(Fault::NotFound)?;
    let file = export::json(&climate.place).map_err(|_| Fault::Failed)?;
    Ok(download(&format!("{name}.json"), "application/json", file))
}
