//! The classes of pump that stand in for one that was not told: seen by all, changed by those who run the place.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use rust_decimal::Decimal;

use crate::desk::frame::cell::{Cell, Typed, capital, text_of};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::state::Desk;
use crate::pricefile::value::{amount, class_faults};
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::parts::pump_class::PumpClass;
use crate::store::{Step, StoreError};
use crate::world::{prices_of, prices_row, row_of_class};

/// Fields that hold a number: name, label.
const NUMBERS: [(&str, &str); 6] = [
    ("label_v", "Volts on the label"),
    ("flow_l_h", "Flow at no lift, l/h"),
    ("head_m", "Greatest lift, m"),
    ("amps", "Amps, where the label prints them"),
    ("life_h", "Running hours until it is worn out"),
    ("price", "Price, empty where there is none"),
];

/// The greatest price that is meant.
const PRICE_MOST: i64 = 1_000_000_000;

#[derive(Template)]
#[template(path = "look/pumps.html", config = "src/askama.toml")]
struct PumpsPage<'a> {
    frame: Frame<'a>,
    currency: &'a str,
    classes: Vec<(&'a PumpClass, Option<Decimal>)>,
    form: ClassForm,
    is_wrong: bool,
}

#[derive(Template)]
#[template(path = "look/pump.html", config = "src/askama.toml")]
struct PumpPage<'a> {
    frame: Frame<'a>,
    name: &'a str,
    form: ClassForm,
    problem: Option<String>,
}

/// A class as a form.
struct ClassForm {
    cells: Vec<Cell>,
    electronics: bool,
}

impl ClassForm {
    fn of(typed: &Typed, is_new: bool) -> Self {
        let name = is_new.then_some(("name", "Name, such as large_24"));
        let cells = name.into_iter().chain(NUMBERS).map(|(name, label)| Cell::of(name, label, typed)).collect();
        Self { cells, electronics: typed.contains_key("electronics") }
    }

    fn of_class(class: &PumpClass, price: Option<Decimal>) -> Self {
        let label = &class.label;
        let text = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
        let mut typed: Typed = [
            ("label_v", text(Some(label.label_v))),
            ("flow_l_h", text(Some(label.flow_l_h))),
            ("head_m", text(Some(label.head_m))),
            ("amps", text(label.amps)),
            ("life_h", text(Some(class.life_h))),
            ("price", price.map(|price| price.to_string()).unwrap_or_default()),
        ]
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .collect();
        if label.electronics {
            typed.insert("electronics".to_owned(), "yes".to_owned());
        }
        Self::of(&typed, false)
    }

    fn cell(&mut self, name: &str) -> Option<&mut Cell> {
        self.cells.iter_mut().find(|cell| cell.name == name)
    }

    fn wrong(&mut self, name: &str, problem: String) {
        if let Some(cell) = self.cell(name) {
            cell.problem.get_or_insert(problem);
        }
    }

    /// A label stands for one class: a price could not tell two of them apart.
    fn refuse_twin(&mut self, classes: &[PumpClass], class: &PumpClass) {
        let twin = classes.iter().find(|other| other.name != class.name && other.has_label(&class.label));
        if let Some(twin) = twin {
            self.wrong("flow_l_h", format!("The class {} has this very label; change that one instead.", twin.name));
        }
    }

    fn is_sound(&self) -> bool {
        self.cells.iter().all(|cell| cell.problem.is_none())
    }

    /// The class and its price, with the problems of each field where there are any.
    fn read(&mut self, name: &str) -> Option<(PumpClass, Option<Decimal>)> {
        let needed = ["label_v", "flow_l_h", "head_m", "life_h"].map(|name| self.cell(name).and_then(Cell::needed));
        let amps = self.cell("amps").and_then(Cell::number);
        let typed = self.cell("price").map(|cell| cell.value.clone()).unwrap_or_default();
        let price = amount(&typed.as_str().into());
        let is_price = |price: Decimal| !price.is_sign_negative() && price <= Decimal::from(PRICE_MOST);
        if !typed.is_empty() && !price.is_some_and(is_price) {
            self.wrong("price", format!("“{typed}” is no price; write digits with a point, such as 12.50."));
        }
        let [label_v, flow_l_h, head_m, life_h] = needed;
        // A number that is missing has its problem already; the others are looked at beside it.
        let label = PumpLabel {
            label_v: label_v.unwrap_or(12.0),
            flow_l_h: flow_l_h.unwrap_or(4500.0),
            head_m: head_m.unwrap_or(4.5),
            amps,
            electronics: self.electronics,
            displacement: false,
        };
        let class = PumpClass { name: name.to_owned(), label, life_h: life_h.unwrap_or(1500.0) };
        for fault in class_faults(&class) {
            self.wrong(&fault.key, format!("{}.", capital(&fault.sentence)));
        }
        self.is_sound().then_some((class, price))
    }
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, ClassForm::of(&Typed::new(), true))
}

fn page(desk: &Desk, member: &Member, form: ClassForm) -> Result<Response, Fault> {
    let world = desk.world();
    let prices = &world.market.prices;
    let mut classes: Vec<_> =
        world.market.classes.iter().map(|class| (class, prices.pump.get(&class.name).copied())).collect();
    classes.sort_by_key(|(_, price)| (price.is_none(), *price));
    let is_wrong = !form.is_sound();
    let frame = Frame::new("Pumps", Some(member));
    let page = PumpsPage { frame, currency: &prices.currency, classes, form, is_wrong };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

pub async fn add(State(desk): State<Arc<Desk>>, member: Member, Form(typed): Form<Typed>) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let mut form = ClassForm::of(&typed, true);
    let name = text_of(&typed, "name");
    let Some((class, price)) = form.read(name) else { return page(&desk, &member, form) };
    form.refuse_twin(&desk.world().market.classes, &class);
    if !form.is_sound() {
        return page(&desk, &member, form);
    }
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    if !step.add_pump_class(&row_of_class(&class)).await? {
        form.wrong("name", format!("A class named {name} is there; choose another name, or open it to change it."));
        return page(&desk, &member, form);
    }
    set_price(&mut step, name, price).await?;
    step.note(&member.name, "added a class of pump", name, now).await?;
    step.commit().await?;
    desk.world_changed().await;
    Ok(Redirect::to("/desk/pumps").into_response())
}

pub async fn show_class(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(name): Path<String>,
) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let world = desk.world();
    let class = world.market.classes.iter().find(|class| class.name == name).ok_or(Fault::NotFound)?;
    let form = ClassForm::of_class(class, world.market.prices.pump.get(&name).copied());
    show(&PumpPage { frame: Frame::new("A class of pump", Some(&member)), name: &name, form, problem: None })
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(name): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let mut form = ClassForm::of(&typed, false);
    let wrong = |form: ClassForm, problem: Option<String>| {
        show_wrong(&PumpPage { frame: Frame::new("A class of pump", Some(&member)), name: &name, form, problem })
    };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    let did = match text_of(&typed, "do") {
        "remove" => {
            if !step.remove_pump_class(&name).await? {
                let problem = "The last class of pump stays; add another one first.";
                return wrong(form, Some(problem.to_owned()));
            }
            set_price(&mut step, &name, None).await?;
            "took out a class of pump"
        }
        _ => {
            let Some((class, price)) = form.read(&name) else { return wrong(form, None) };
            form.refuse_twin(&desk.world().market.classes, &class);
            if !form.is_sound() {
                return wrong(form, None);
            }
            if !step.change_pump_class(&row_of_class(&class)).await? {
                return Err(Fault::NotFound);
            }
            set_price(&mut step, &name, price).await?;
            "changed a class of pump"
        }
    };
    step.note(&member.name, did, &name, now).await?;
    step.commit().await?;
    desk.world_changed().await;
    Ok(Redirect::to("/desk/pumps").into_response())
}

/// Puts the price of a class in the price list, or takes it out.
async fn set_price(step: &mut Step<'_>, name: &str, price: Option<Decimal>) -> Result<(), StoreError> {
    let row = step.lock_prices().await?;
    let mut prices = row.map(|row| prices_of(&row.prices)).transpose()?.unwrap_or_default();
    if prices.pump.get(name).copied() == price {
        return Ok(());
    }
    match price {
        Some(price) => prices.pump.insert(name.to_owned(), price),
        None => prices.pump.remove(name),
    };
    step.put_prices(&prices_row(&prices)?, Utc::now()).await
}
