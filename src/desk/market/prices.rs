//! The price list: seen by all, changed by those who run the place, value by value or as a file.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Multipart, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde_json::{Map, Value, json};

use crate::desk::frame::cell::{Cell, Typed, capital, text_of};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::{Frame, download};
use crate::desk::frame::pasted::pasted;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::state::Desk;
use crate::pricefile::value::{PETROL, SINGLE, SIZED, check};
use crate::pricefile::{self, Fault as Wrong, PriceFile};
use crate::sizing::Market;
use crate::sizing::money::costs::PriceList;
use crate::world::{market_in, prices_of, put_market_in};

/// Words of the audit are kept short.
const CHANGES_NAMED: usize = 8;

/// Prices by size: a row for each, and one to be added.
struct Sized {
    title: &'static str,
    cells: Vec<Cell>,
    new_size: Cell,
    new_price: Cell,
}

#[derive(Template)]
#[template(path = "look/prices.html", config = "src/askama.toml")]
struct PricesPage<'a> {
    frame: Frame<'a>,
    /// The list that the form was filled from.
    read: String,
    single: Vec<Cell>,
    petrol: Vec<Cell>,
    sized: Vec<Sized>,
    /// A file that was not taken.
    text: &'a str,
    problem: Option<String>,
    import_problem: Option<String>,
}

/// What the page shows besides what is stored.
#[derive(Default)]
struct Draft<'a> {
    typed: Option<&'a Typed>,
    faults: Vec<Wrong>,
    text: &'a str,
    problem: Option<String>,
    import_problem: Option<String>,
}

fn label_of(key: &str, size: &str) -> String {
    match key {
        "panel" => format!("Panel of {size} W"),
        "pipe_per_m" => format!("Pipe of {size} mm, a metre"),
        "cable_per_m" => format!("Cable of {size} mm², a metre"),
        "breaker" => format!("Breaker of {size} A"),
        "fuse" => format!("Fuse of a string, {size} A"),
        "panel_per_w" => "Any other panel, a watt".to_owned(),
        "cart" => "Cart".to_owned(),
        "rope_per_m" => "Rope, a metre".to_owned(),
        "float" => "Float".to_owned(),
        "clamp" => "Hose clamp".to_owned(),
        "drip_per_m2" => "Drip kit, a square metre".to_owned(),
        "interest_percent" => "Interest on borrowed money, % a year".to_owned(),
        _ => key.to_owned(),
    }
}

fn petrol_label(key: &str) -> &'static str {
    match key {
        "pump" => "Petrol pump",
        "fuel_per_l" => "Petrol, a litre",
        "fuel_l_h" => "Litres that it burns an hour",
        "flow_l_h" => "Litres that it lifts an hour",
        _ => "Years that it lasts",
    }
}

fn title_of(key: &str) -> (&'static str, &'static str) {
    match key {
        "panel" => ("Panels", "Watts of another panel"),
        "pipe_per_m" => ("Pipe", "Bore of another pipe, mm"),
        "cable_per_m" => ("Cable, both conductors", "Size of another cable, mm²"),
        "fuse" => ("Fuses of the strings", "Amps of another fuse"),
        _ => ("Breakers for direct current", "Amps of another breaker"),
    }
}

/// The prices as the fields of the form; pumps have theirs with their classes.
fn typed_of(prices: &PriceList) -> Result<Typed, Fault> {
    let file = PriceFile { prices: prices.clone(), classes: None };
    let mut typed = Typed::new();
    for (key, value) in pricefile::values_of(&file).map_err(|_| Fault::Failed)? {
        match value {
            Value::Object(table) if key != "pump" => {
                let text = |value: Value| value.as_str().map(str::to_owned).unwrap_or_default();
                typed.extend(table.into_iter().map(|(size, value)| (format!("{key}.{size}"), text(value))));
            }
            Value::String(text) => {
                typed.insert(key, text);
            }
            _ => {}
        }
    }
    Ok(typed)
}

impl<'a> PricesPage<'a> {
    fn of(frame: Frame<'a>, read: String, typed: &Typed, draft: Draft<'a>) -> Self {
        let problem_of = |key: &str| {
            let fault = draft.faults.iter().find(|fault| fault.key == key);
            fault.map(|fault| format!("{}.", capital(&fault.sentence)))
        };
        let cell = |name: String, label: String| {
            let problem = problem_of(&name);
            Cell { problem, ..Cell::of(name, label, typed) }
        };
        let currency = cell("currency".to_owned(), "Currency, as it is written beside an amount".to_owned());
        let single = SINGLE.iter().map(|key| cell((*key).to_owned(), label_of(key, "")));
        let single = std::iter::once(currency).chain(single).collect();
        let petrol = PETROL.iter().map(|key| cell(format!("petrol.{key}"), petrol_label(key).to_owned())).collect();
        let sized = SIZED.map(|key| {
            let start = format!("{key}.");
            let mut sizes: Vec<&str> = typed.keys().filter_map(|name| name.strip_prefix(&start)).collect();
            let number = |size: &str| size.parse::<f64>().unwrap_or(f64::MAX);
            sizes.sort_by(|a, b| number(a).total_cmp(&number(b)));
            let cells = sizes.iter().map(|size| cell(format!("{key}.{size}"), label_of(key, size))).collect();
            let (title, new) = title_of(key);
            let new_size = cell(format!("new-size.{key}"), new.to_owned());
            let mut new_price = cell(format!("new-price.{key}"), "Its price".to_owned());
            if !new_size.value.is_empty() && new_price.problem.is_none() {
                new_price.problem =
                    problem_of(&format!("{key}.{}", new_size.value)).filter(|_| !sizes.contains(&&*new_size.value));
            }
            Sized { title, cells, new_size, new_price }
        });
        let Draft { text, problem, import_problem, .. } = draft;
        Self { frame, read, single, petrol, sized: sized.into(), text, problem, import_problem }
    }
}

pub async fn show_prices(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, Draft::default()).await
}

async fn page(desk: &Desk, member: &Member, draft: Draft<'_>) -> Result<Response, Fault> {
    let row = desk.store.prices().await?;
    let read = row.as_ref().map(|row| row.id.to_string()).unwrap_or_default();
    let prices = row.map(|row| prices_of(&row.prices)).transpose()?.unwrap_or_default();
    let stored = typed_of(&prices)?;
    let is_wrong = draft.problem.is_some() || draft.import_problem.is_some();
    let typed = draft.typed.unwrap_or(&stored);
    let page = PricesPage::of(Frame::new("Prices", Some(member)), read, typed, draft);
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

/// What was typed as plain values, with what is wrong in the rows to be added.
fn values_of(typed: &Typed) -> (Map<String, Value>, Vec<Wrong>) {
    let (mut values, mut faults) = (Map::new(), Vec::new());
    let mut put = |table: &str, size: &str, text: &str| {
        values.entry(table).or_insert_with(|| json!({}))[size] = json!(text);
    };
    for (name, text) in typed.iter().map(|(name, text)| (name, text.trim())).filter(|(_, text)| !text.is_empty()) {
        match name.split_once('.') {
            Some((table, size)) if SIZED.contains(&table) || table == "petrol" => put(table, size, text),
            _ => {}
        }
    }
    for key in SIZED {
        let (size_name, price_name) = (format!("new-size.{key}"), format!("new-price.{key}"));
        let (size, price) = (text_of(typed, &size_name), text_of(typed, &price_name));
        let mut wrong = |key: String, sentence: &str| faults.push(Wrong { key, sentence: sentence.to_owned() });
        match (size.is_empty(), price.is_empty()) {
            (true, true) => {}
            (true, false) => wrong(size_name, "write the size beside its price"),
            (false, true) => wrong(price_name, "write the price beside its size"),
            _ if typed.contains_key(&format!("{key}.{size}")) => wrong(size_name, "this size is there; change it above"),
            _ => put(key, size, price),
        }
    }
    for key in ["currency"].iter().chain(&SINGLE) {
        let text = text_of(typed, key);
        if !text.is_empty() {
            values.insert((*key).to_owned(), json!(text));
        }
    }
    (values, faults)
}

pub async fn save(State(desk): State<Arc<Desk>>, member: Member, Form(typed): Form<Typed>) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let now = Utc::now();
    let (mut values, mut faults) = values_of(&typed);
    let mut step = desk.store.begin().await?;
    let row = step.lock_prices().await?;
    let read = row.as_ref().map(|row| row.id.to_string()).unwrap_or_default();
    let before = row.map(|row| prices_of(&row.prices)).transpose()?.unwrap_or_default();
    values.insert("pump".to_owned(), serde_json::to_value(&before.pump).map_err(|_| Fault::Failed)?);
    let prices = match check(&Value::Object(values)) {
        Ok(file) => file.prices,
        Err(error) => {
            faults.extend(error.0);
            PriceList::default()
        }
    };
    let problem = if !faults.is_empty() {
        Some("Nothing was changed; correct the marked fields.")
    } else if text_of(&typed, "read") != read {
        Some("Somebody else has changed the prices meanwhile; look at them in another window, then save again.")
    } else {
        None
    };
    if let Some(problem) = problem {
        drop(step);
        let draft = Draft { typed: Some(&typed), faults, problem: Some(problem.to_owned()), ..Draft::default() };
        return page(&desk, &member, draft).await;
    }
    let changed = changes(&typed_of(&before)?, &typed_of(&prices)?);
    if !changed.is_empty() {
        put_market_in(&mut step, &PriceFile { prices, classes: None }, now).await?;
        step.note(&member.name, "changed prices", &changed, now).await?;
        step.commit().await?;
        desk.world_changed().await;
    }
    Ok(Redirect::to("/desk/prices").into_response())
}

/// The keys whose values differ.
fn changes(before: &Typed, after: &Typed) -> String {
    let all: BTreeMap<&String, ()> = before.keys().chain(after.keys()).map(|key| (key, ())).collect();
    let changed: Vec<&str> =
        all.into_keys().filter(|key| before.get(*key) != after.get(*key)).map(String::as_str).collect();
    let named = changed.iter().take(CHANGES_NAMED).copied().collect::<Vec<_>>().join(", ");
    match changed.len().saturating_sub(CHANGES_NAMED) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}

pub async fn import(State(desk): State<Arc<Desk>>, member: Member, form: Multipart) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let text = pasted(form).await?;
    let file = match pricefile::parse_file(&text, pricefile::Form::of(&text)) {
        Ok(file) => file,
        Err(error) => {
            let problem = Some(format!("Nothing was changed: {error}."));
            return page(&desk, &member, Draft { text: &text, import_problem: problem, ..Draft::default() }).await;
        }
    };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    step.lock_prices().await?;
    put_market_in(&mut step, &file, now).await?;
    let what = file.classes.as_ref().map_or("prices".to_owned(), |classes| format!("prices, {} classes", classes.len()));
    step.note(&member.name, "brought in a price list", &what, now).await?;
    step.commit().await?;
    desk.world_changed().await;
    Ok(Redirect::to("/desk/prices").into_response())
}

/// The prices and the classes of pump as one file.
pub async fn export(State(desk): State<Arc<Desk>>, _member: Member, Path(name): Path<String>) -> Result<Response, Fault> {
    let Market { prices, classes } = market_in(&desk.store).await?;
    let file = PriceFile { prices, classes: Some(classes) };
    let (text, kind) = match name.as_str() {
        "prices.toml" => (pricefile::toml(&file), "application/toml"),
        "prices.csv" => (pricefile::csv(&file), "text/csv; charset=utf-8"),
        _ => return Err(Fault::NotFound),
    };
    Ok(download(&name, kind, text.map_err(|_| Fault::Failed)?))
}
