//! The numbers of a set's page, worked out anew from the sheet that an advice was given on.

use crate::desk::frame::chart::{Chart, Curve, Figure};
use crate::desk::frame::months::MONTHS;
use crate::desk::frame::words::{said, said_with};
use crate::sizing::advice::advise::Advice;

use crate::sizing::parts::pipe::{BORES_MM, Pipe};
use crate::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::{Climate, Market, Sheet, SizingError, advise};
use crate::terms::StanceKind;

/// Points of a curve.
const POINTS: usize = 40;

pub struct Curves {
    /// Flow, l/min of one pump, with the head of the pump at bright noon and the head that the pipe asks for, m.
    meeting: Vec<(f64, f64, Option<f64>)>,
    noon_l_min: f64,
    /// Solar hour, l/min flat and turned.
    hours: Vec<(f64, f64, f64)>,
    /// Bore, mm, and head lost at the noon's flow, m.
    bores: Vec<(f64, f64)>,
}

/// What of its label the pump gives: the set's own numbers where a bucket test has told them.
fn share_of(advice: &Advice) -> LabelShare {
    advice.tested.as_ref().and_then(|tested| tested.own).unwrap_or_default()
}

/// m³/s from l/min.
fn m3_s(l_min: f64) -> f64 {
    l_min / 60_000.0
}

impl Curves {
    pub fn of(advice: &Advice, climate: &Climate) -> Result<Self, SizingError> {
        let used = &advice.sheet;
        let pumps = f64::from(used.pump.count);
        let label = PumpLabel {
            label_v: used.pump.label_v,
            flow_l_h: used.pump.flow_l_h,
            head_m: used.pump.head_m,
            amps: Some(used.pump.amps),
            electronics: used.pump.electronics,
            displacement: used.pump.displacement,
        };
        let pump = Pump::from_label(&label, share_of(advice))?;
        let pipe = Pipe::new(used.pipe_m, used.bore_mm, used.pipe_kind)?;
        let noon = &advice.bright_noon;
        let noon_l_min = noon.flow_l_min / pumps;
        // What the pump works against besides the pipe.
        let static_m = noon.head_m - noon.pipe_loss_m;
        let most_l_min = (noon_l_min * 1.6).max(pump.free_flow_m3_s * 60_000.0 * 0.5);
        let meeting = (0..=POINTS).map(|step| {
            let flow = most_l_min * step as f64 / POINTS as f64;
            let head_m = pump.head_m(noon.speed, m3_s(flow));
            (flow, static_m + pipe.loss_m(m3_s(flow)), (head_m >= 0.0).then_some(head_m))
        });
        let mut tried = BORES_MM.to_vec();
        // The bore in use stands among them, whatever it is.
        if !tried.iter().any(|bore| (bore - used.bore_mm).abs() < 0.05) {
            tried.push(used.bore_mm);
            tried.sort_by(f64::total_cmp);
        }
        let bores = tried
            .iter()
            .map(|&bore_mm| Ok((bore_mm, Pipe::new(used.pipe_m, bore_mm, used.pipe_kind)?.loss_m(m3_s(noon_l_min)))))
            .collect::<Result<Vec<_>, SizingError>>()?;
        Ok(Self { meeting: meeting.collect(), noon_l_min, hours: hours(advice, climate, label)?, bores })
    }

    pub fn figures(&self, advice: &Advice) -> Vec<Figure> {
        vec![self.operating_point(advice), self.day(), year(advice), self.pipe(advice)]
    }

    fn operating_point(&self, advice: &Advice) -> Figure {
        let pump = self.meeting.iter().filter_map(|(flow, _, head)| Some((*flow, (*head)?))).collect();
        let pipe = self.meeting.iter().map(|(flow, head, _)| (*flow, *head)).collect();
        let noon = &advice.bright_noon;
        let title = said("Pump and pipe at bright noon").into_owned();
        let chart = Chart {
            id: "meet",
            description: said_with(
                "Pump and pipe meet at {flow} l/min and {head} m; {loss} m of that is lost in the pipe.",
                &[
                    ("flow", &format!("{:.1}", self.noon_l_min)),
                    ("head", &format!("{:.1}", noon.head_m)),
                    ("loss", &format!("{:.2}", noon.pipe_loss_m)),
                ],
            ),
            mark_name: format!("{:.1} l/min, {:.1} m", self.noon_l_min, noon.head_m),
            title: title.clone(),
            x_name: "flow of one pump, l/min",
            y_name: "head, m",
            curves: vec![
                Curve { class: "one", name: "pump", points: pump },
                Curve { class: "two", name: "lift and pipe", points: pipe },
            ],
            mark: Some((self.noon_l_min, noon.head_m)),
            ..Chart::default()
        };
        let rows = self.meeting.iter().step_by(5).map(|(flow, pipe, pump)| {
            vec![format!("{flow:.1}"), pump.map_or("-".to_owned(), |head| format!("{head:.2}")), format!("{pipe:.2}")]
        });
        figure(title, &chart, &["Flow, l/min", "Pump, m", "Lift and pipe, m"], rows.collect())
    }

    /// What turning the panels brings on a bright day.
    fn day_in_words(&self) -> String {
        let litres = |flow: fn(&(f64, f64, f64)) -> f64| self.hours.iter().map(flow).sum::<f64>() * 60.0;
        let (flat, turned) = (litres(|hour| hour.1), litres(|hour| hour.2));
        let m3 = |litres: f64| format!("{:.1}", litres / 1000.0);
        said_with(
            "On a bright day some {flat} m³ with the panels flat and {turned} m³ turned by hand.",
            &[("flat", &m3(flat)), ("turned", &m3(turned))],
        )
    }

    fn day(&self) -> Figure {
        let title = said("Flow through the bright day").into_owned();
        let chart = Chart {
            id: "day",
            description: self.day_in_words(),
            title: title.clone(),
            x_name: "solar hour",
            y_name: "l/min",
            x_names: self.hours.iter().map(|(hour, ..)| format!("{hour:.0}")).collect(),
            curves: vec![
                Curve {
                    class: "one",
                    name: "flat",
                    points: self.hours.iter().enumerate().map(|(at, (_, flat, _))| (at as f64, *flat)).collect(),
                },
                Curve {
                    class: "two",
                    name: "turned",
                    points: self.hours.iter().enumerate().map(|(at, (.., turned))| (at as f64, *turned)).collect(),
                },
            ],
            ..Chart::default()
        };
        let rows = self
            .hours
            .iter()
            .map(|(hour, flat, turned)| vec![format!("{hour:.0}"), format!("{flat:.1}"), format!("{turned:.1}")]);
        figure(title, &chart, &["Solar hour", "Flat, l/min", "Turned, l/min"], rows.collect())
    }

    fn pipe(&self, advice: &Advice) -> Figure {
        let title = said_with(
            "Head lost in {m} m of pipe at {flow} l/min",
            &[("m", &format!("{:.0}", advice.sheet.pipe_m)), ("flow", &format!("{:.1}", self.noon_l_min))],
        );
        let used = self.bores.iter().position(|(bore, _)| (bore - advice.sheet.bore_mm).abs() < 0.05);
        let lost = |at: usize| self.bores.get(at).map(|(bore, loss)| (format!("{bore:.0}"), format!("{loss:.2}")));
        let (mm, loss) = used.and_then(lost).unwrap_or_default();
        let (wider_mm, wider_loss) = used.and_then(|at| lost(at + 1)).unwrap_or((mm.clone(), loss.clone()));
        let chart = Chart {
            id: "pipe",
            description: said_with(
                "The pipe in use, {mm} mm, takes {loss} m at bright noon; {wider} mm would take {less} m.",
                &[("mm", &mm), ("loss", &loss), ("wider", &wider_mm), ("less", &wider_loss)],
            ),
            used_bar: used,
            bar_values: true,
            title: title.clone(),
            x_name: "bore, mm",
            y_name: "m",
            x_names: self.bores.iter().map(|(bore, _)| format!("{bore:.0}")).collect(),
            bars: self.bores.iter().map(|(_, loss)| *loss).collect(),
            bars_name: "head lost",
            ..Chart::default()
        };
        let rows = self.bores.iter().map(|(bore, loss)| vec![format!("{bore:.0}"), format!("{loss:.2}")]);
        figure(title, &chart, &["Bore, mm", "Head lost, m"], rows.collect())
    }
}

fn figure(title: String, chart: &Chart, head: &[&str], rows: Vec<Vec<String>>) -> Figure {
    Figure { title, svg: chart.svg(), head: head.iter().map(|name| said(name).into_owned()).collect(), rows }
}

/// The bright day of the design month, flat and turned, with everything else as it is.
fn hours(advice: &Advice, climate: &Climate, label: PumpLabel) -> Result<Vec<(f64, f64, f64)>, SizingError> {
    let used = &advice.sheet;
    let stood = |stance: StanceKind| {
        let sheet = Sheet {
            lift_m: Some(used.lift_m),
            low_m: Some(used.low_m),
            pipe_m: Some(used.pipe_m),
            bore_mm: Some(used.bore_mm),
            panel_count: Some(used.panel_count),
            panel_w: Some(used.panel_w),
            stance: Some(stance),
            pump: Some(label),
            pump_count: Some(used.pump.count),
            well_l_h: used.well_l_h,
            garden_m2: used.garden_m2,
            crop: Some(used.crop.to_owned()),
            month: Some(advice.design_month),
            watering: Some(used.watering),
            wire_m: Some(used.wire_m),
            wire_mm2: Some(used.wire_mm2),
            ..Sheet::default()
        };

        let filled = CompleteSheet { label_share: share_of(advice), ..sheet.fill(climate.place.lat_deg)? };
        advise(&filled, climate, &Market::default())
    };
    let (flat, turned) = (stood(StanceKind::Flat)?, stood(StanceKind::Turned)?);
    Ok(flat
        .hours
        .iter()
        .zip(&turned.hours)
        .map(|(flat, turned)| (flat.solar_hour, flat.flow_l_min, turned.flow_l_min))
        .collect())
}

/// Which month is the hardest, and whether its water is enough.
fn year_in_words(advice: &Advice) -> String {
    let Some(garden_m2) = advice.sheet.garden_m2 else {
        return said("Water on the mean day and on a poor day of each month; no garden was told.").into_owned();
    };
    let margin = |month: usize| {
        let of_month = &advice.months[month];
        of_month.water.water_m3_day - of_month.need_l_m2_day * garden_m2 / 1000.0
    };
    let hardest = (0..12).min_by(|a, b| margin(*a).total_cmp(&margin(*b))).unwrap_or_default();
    let of_month = &advice.months[hardest];
    said_with(
        "The hardest month is {month}: {water} m³ on the mean day, {need} m³ needed.",
        &[
            ("month", &said(MONTHS[hardest])),
            ("water", &format!("{:.1}", of_month.water.water_m3_day)),
            ("need", &format!("{:.1}", of_month.need_l_m2_day * garden_m2 / 1000.0)),
        ],
    )
}

/// Water against need: the need is the garden's where one is told, else left out.
fn year(advice: &Advice) -> Figure {
    let garden_m2 = advice.sheet.garden_m2;
    let by_month = |value: &dyn Fn(usize) -> f64| (0..12).map(|month| (month as f64, value(month))).collect::<Vec<_>>();
    let months = &advice.months;
    let need = |month: usize| garden_m2.map_or(0.0, |garden| months[month].need_l_m2_day * garden / 1000.0);
    let title = said("Water against need through the year").into_owned();
    let mut curves = vec![
        Curve { class: "one", name: "mean day", points: by_month(&|month| months[month].water.water_m3_day) },
        Curve { class: "two", name: "poor day", points: by_month(&|month| months[month].water.poor_day_m3) },
    ];
    curves.retain(|curve| !curve.points.is_empty());
    let chart = Chart {
        id: "year",
        description: year_in_words(advice),
        title: title.clone(),
        x_name: "month",
        y_name: "m³ a day",
        x_names: MONTHS.iter().map(|name| said(name).into_owned()).collect(),
        curves,
        bars: if garden_m2.is_some() { (0..12).map(need).collect() } else { Vec::new() },
        bars_name: "need",
        ..Chart::default()
    };
    let rows = (0..12).map(|month| {
        let needed = if garden_m2.is_some() { format!("{:.1}", need(month)) } else { "-".to_owned() };
        let water = &months[month].water;
        vec![
            said(MONTHS[month]).into_owned(),
            format!("{:.1}", water.water_m3_day),
            format!("{:.1}", water.poor_day_m3),
            needed,
            format!("{:.1}", water.pumping_hours),
        ]
    });
    let head = ["Month", "Mean day, m³", "Poor day, m³", "Need, m³", "Hours with water"];
    figure(title, &chart, &head, rows.collect())
}
