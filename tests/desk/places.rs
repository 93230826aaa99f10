//! Places: brought in, added from the atlas, changed value by value, taken away and out.

use reqwest::{Response, StatusCode, header};
use serde_json::Value;

use crate::common::{Folder, Service};
use crate::seat::Seat;

const KITO: &str = include_str!("../../src/demo/kito.json");

async fn bring(seat: &Seat<'_>, text: &str) -> Response {
    let kind = "multipart/form-data; boundary=kito";
    let body = format!(
        "--kito\r\nContent-Disposition: form-data; name=\"file\"; filename=\"place\"\r\n\r\n{text}\r\n--kito--\r\n"
    );
    let request = seat.request(reqwest::Method::POST, "/desk/places").header(header::CONTENT_TYPE, kind);
    request.body(body).send().await.unwrap()
}

/// What a browser would post of the form that asks for every value.
fn fields_of(page: &str) -> Vec<(String, String)> {
    let value = |input: &str, name: &str| {
        let start = format!(" {name}=\"");
        format!(" {input}").split(&start).nth(1).map(|rest| rest.split('"').next().unwrap_or_default().to_owned())
    };
    let inputs = page.split("<input").skip(1).map(|input| input.split('>').next().unwrap());
    let inputs = inputs.filter(|input| !input.contains("type=\"checkbox\"") && !input.contains("type=\"file\""));
    let found: Vec<(String, String)> =
        inputs.filter_map(|input| Some((value(input, "name")?, value(input, "value")?))).collect();
    assert!(found.iter().filter(|(name, _)| name.starts_with('m')).count() == 84, "{found:?}");
    found
}

async fn save(seat: &Seat<'_>, path: &str, fields: &[(String, String)], changed: &[(&str, &str)]) -> Response {
    let kept = fields.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let kept = kept.filter(|(name, _)| changed.iter().all(|(other, _)| other != name));
    let all: Vec<(&str, &str)> = kept.chain(changed.iter().copied()).collect();
    seat.post(path, &all).await
}

#[tokio::test(flavor = "multi_thread")]
async fn places_are_brought_in_checked_and_taken_away() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let upper = KITO.replace("\"Kito\"", "\"Upper Kito\"");
    assert_eq!(bring(&baraka, &upper).await.status(), StatusCode::FORBIDDEN);
    let wrong = bring(&asha, &upper.replace("\"t_min_c\": 17", "\"t_min_c\": 41")).await;
    assert_eq!(wrong.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let page = wrong.text().await.unwrap();
    assert!(page.contains("Upper Kito") && page.contains("t_max_c"), "it says what is wrong: {page}");
    assert_eq!(bring(&asha, &upper).await.status(), StatusCode::SEE_OTHER);
    let page = asha.page("/desk/places/Upper%20Kito").await;
    assert_eq!(page.matches("<svg role=\"img\"").count(), 3);
    let file = asha.page("/desk/places/Upper%20Kito/file.json").await;
    let same: Value = serde_json::from_str(&upper).unwrap();
    let taken: Value = serde_json::from_str(&file).unwrap();
    assert_eq!(taken["months"][3]["rain_mm"].as_f64(), same["months"][3]["rain_mm"].as_f64());
    assert_eq!((taken["months"].as_array().unwrap().len(), &taken["name"]), (12, &same["name"]));
    // What is taken away can be brought in.
    assert_eq!(bring(&asha, &file).await.status(), StatusCode::SEE_OTHER);
    let table = "# name: Lower Kito\n# lat_deg: -8.1\n# lon_deg: 35\n# alt_m: 900\nmonth,t_min_c,t_max_c\n";
    let table = (1..=12).fold(table.to_owned(), |text, month| format!("{text}{month},15,29\n"));
    assert_eq!(bring(&asha, &table).await.status(), StatusCode::SEE_OTHER);
    assert!(asha.page("/desk/places").await.contains("Lower Kito"));
    let audit = asha.page("/desk/audit").await;
    assert!(audit.contains("brought in a place") && audit.contains("Upper Kito") && audit.contains("signed in"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_place_is_changed_value_by_value_and_in_force_at_once() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let set = "/desk/set?text=lift+5+pipe+40+panel+5x80+garden+1500+august";
    let water = |page: &str| page.split("Water on the mean day</th>").nth(1).unwrap()[..60].to_owned();
    let before = water(&asha.page(set).await);
    let fields = fields_of(&asha.page("/desk/places/Kito").await);
    assert_eq!(save(&baraka, "/desk/places/Kito", &fields, &[]).await.status(), StatusCode::FORBIDDEN);

    let wrong = [("m3.t_min_c", "cold"), ("m5.t_max_c", ""), ("alt_m", "high"), ("season_months", "6 13")];
    let refused = save(&asha, "/desk/places/Kito", &fields, &wrong).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let page = refused.text().await.unwrap();
    for said in ["place Kito, month 3: `t_min_c`", "place Kito, month 5: `t_max_c`", "`alt_m`", "`season_months`"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert!(page.contains("value=\"cold\"") && page.contains("value=\"6 13\""), "what was typed stays");
    // A number that cannot be, by the check of every place file.
    let refused = save(&asha, "/desk/places/Kito", &fields, &[("m8.h_kwh_m2_day", "12.9")]).await;
    let page = refused.text().await.unwrap();
    assert!(page.contains("id=\"p-m8.h_kwh_m2_day\"") && page.contains("place Kito, month 8: `h_kwh_m2_day`"), "{page}");

    let dim = save(&asha, "/desk/places/Kito", &fields, &[("m8.h_kwh_m2_day", "3.1"), ("do", "save")]).await;
    assert_eq!(dim.status(), StatusCode::SEE_OTHER);
    assert_ne!(water(&asha.page(set).await), before, "less sun, other water");
    assert!(asha.page("/desk/audit").await.contains("changed a place"));
    // Growers who name no place are here.
    let kept = asha.post("/desk/places/Kito", &[("do", "remove")]).await;
    assert_eq!(kept.status(), StatusCode::UNPROCESSABLE_ENTITY);
    assert!(kept.text().await.unwrap().contains("own place stays"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_place_is_added_from_the_atlas_and_taken_out() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    assert_eq!(asha.get("/desk/new-place?from=Nowhere+at+all").await.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let mut fields = fields_of(&asha.page("/desk/new-place?from=-8.2+35.1+1200m").await);
    fields.retain(|(field, _)| field != "from");
    for (name, said) in [("", "Give the place a name"), ("kito", "A place named kito is there")] {
        let refused = save(&asha, "/desk/new-place", &fields, &[("name", name)]).await;
        assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(refused.text().await.unwrap().contains(said), "{said}");
    }
    let added = save(&asha, "/desk/new-place", &fields, &[("name", "Far Kito")]).await;
    assert_eq!(added.status(), StatusCode::SEE_OTHER);
    assert_eq!(added.headers()[header::LOCATION], "/desk/places/Far%20Kito");
    assert!(asha.page("/desk/places").await.contains("Far Kito"));
    assert!(asha.page("/desk/set?text=lift+5+pipe+40+panel+5x80+place+far+kito").await.contains("Water on the mean day"));
    assert_eq!(asha.post("/desk/places/Far%20Kito", &[("do", "remove")]).await.status(), StatusCode::SEE_OTHER);
    assert!(!asha.page("/desk/places").await.contains("Far Kito"));
    // A town of the atlas is shown, and nobody's to change.
    assert!(asha.page("/desk/places/Dodoma").await.contains("This is from the atlas"));
    assert_eq!(asha.post("/desk/places/Dodoma", &[("do", "remove")]).await.status(), StatusCode::NOT_FOUND);
    let audit = asha.page("/desk/audit").await;
    assert!(audit.contains("added a place") && audit.contains("took out a place"));
}
