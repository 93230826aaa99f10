//! The numbers of a set's page, worked out anew from the sheet that an advice was given on.

use crate::desk::frame::chart::{Chart, Curve, Figure};
use crate::desk::frame::months::MONTHS;
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
        let bores = BORES_MM
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
        let title = "Pump and pipe at bright noon".to_owned();
        let chart = Chart {
            id: "meet",
            description: format!("They meet at {:.1} l/min and {:.1} m.", self.noon_l_min, noon.head_m),
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

    fn day(&self) -> Figure {
        let title = "Flow through the bright day".to_owned();
        let chart = Chart {
            id: "day",
            description: "Flow by solar hour with the panels flat and turned by hand.".to_owned(),
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
        let title = format!("Head lost in {:.0} m of pipe at {:.1} l/min", advice.sheet.pipe_m, self.noon_l_min);
        let chart = Chart {
            id: "pipe",
            description: "Head lost at the flow of bright noon, by the bore of the pipe.".to_owned(),
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
    Figure { title, svg: chart.svg(), head: head.iter().map(|name| (*name).to_owned()).collect(), rows }
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

/// Water against need: the need is the garden's where one is told, else left out.
fn year(advice: &Advice) -> Figure {
    let garden_m2 = advice.sheet.garden_m2;
    let by_month = |value: &dyn Fn(usize) -> f64| (0..12).map(|month| (month as f64, value(month))).collect::<Vec<_>>();
    let months = &advice.months;
    let need = |month: usize| garden_m2.map_or(0.0, |garden| months[month].need_l_m2_day * garden / 1000.0);
    let title = "Water against need through the year".to_owned();
    let mut curves = vec![
        Curve { class: "one", name: "mean day", points: by_month(&|month| months[month].water.water_m3_day) },
        Curve { class: "two", name: "poor day", points: by_month(&|month| months[month].water.poor_day_m3) },
    ];
    curves.retain(|curve| !curve.points.is_empty());
    let chart = Chart {
        id: "year",
        description: "Water on the mean day and on a poor day of each month, and what the garden needs.".to_owned(),
        title: title.clone(),
        x_name: "month",
        y_name: "m³ a day",
        x_names: MONTHS.iter().map(|name| (*name).to_owned()).collect(),
        curves,
        bars: if garden_m2.is_some() { (0..12).map(need).collect() } else { Vec::new() },
        bars_name: "need",
        ..Chart::default()
    };
    let rows = (0..12).map(|month| {
        let needed = if garden_m2.is_some() { format!("{:.1}", need(month)) } else { "-".to_owned() };
        let water = &months[month].water;
        vec![
            MONTHS[month].to_owned(),
            format!("{:.1}", water.water_m3_day),
            format!("{:.1}", water.poor_day_m3),
            needed,
            format!("{:.1}", water.pumping_hours),
        ]
    });
    let head = ["Month", "Mean day, m³", "Poor day, m³", "Need, m³", "Hours with water"];
    figure(title, &chart, &head, rows.collect())
}
