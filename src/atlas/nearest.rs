//! The climate of a spot.
//!
//! It is that of the nearest station, brought to the spot's altitude, and not a mean of several: with each station of
//! the table left out and foretold from the others within 500 km, its own neighbour misses the monthly radiation by
//! 8 % and the reference evapotranspiration by 13 % (root mean square), and weighting up to four neighbours by the
//! inverse square of the distance wins no more than one in the hundred. One station can be named in a message, and
//! its figures looked up.

use super::station::{Station, stations};
use crate::sizing::sun::position::MEAN_DAY;
use crate::sizing::weather::evapotranspiration::{
    MJ_PER_KWH, extraterrestrial, mean_saturation_kpa, saturation_kpa, vapour_from_mean_humidity,
};
use crate::sizing::weather::place::MonthClimate;
use crate::sizing::{Place, SizingError};
use crate::spot::Spot;

/// Beyond these the numbers are rough (practice).
pub const FAR_KM: f64 = 300.0;
pub const FAR_ALT_M: f64 = 800.0;

/// Fall of air temperature with altitude, K/m (ISO 2533, the standard atmosphere).
const LAPSE_K_M: f64 = 0.0065;

/// Metres over which vapour pressure falls to a tenth in the mountains (Hann 1874, from memory).
const VAPOUR_TENTH_M: f64 = 6300.0;

/// Mean radius of the earth, km (IUGG).
const EARTH_KM: f64 = 6371.0;

/// A station as seen from a spot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    pub station: &'static Station,
    pub spot: Spot,
    pub distance_km: f64,
}

/// The station nearest to a spot: least `(distance/300 km)^2 + (altitude difference/800 m)^2`, the two bounds being
/// worth the same; by distance alone where the altitude was not told.
pub fn nearest(spot: Spot) -> Option<Near> {
    nearest_of(spot, stations().iter())
}

/// The same among some stations.
pub fn nearest_of(spot: Spot, among: impl Iterator<Item = &'static Station>) -> Option<Near> {
    among
        .map(|station| {
            let distance_km = distance_km((spot.lat_deg, spot.lon_deg), (station.lat_deg, station.lon_deg));
            Near { station, spot, distance_km }
        })
        .min_by(|one, other| one.farness().total_cmp(&other.farness()))
}

/// Distance on the globe, km, between latitudes and longitudes in degrees (haversine).
pub fn distance_km(from: (f64, f64), to: (f64, f64)) -> f64 {
    let half_sin2 = |degrees: f64| (degrees.to_radians() / 2.0).sin().powi(2);
    let across = from.0.to_radians().cos() * to.0.to_radians().cos() * half_sin2(from.1 - to.1);
    2.0 * EARTH_KM * (half_sin2(from.0 - to.0) + across).min(1.0).sqrt().asin()
}

/// The whole hours that a longitude's nautical time zone is ahead of UTC, 15 degrees an hour.
pub fn zone_h(lon_deg: f64) -> f64 {
    (lon_deg / 15.0).round().clamp(-12.0, 12.0)
}

impl Near {
    /// The altitude told, else the station's.
    pub fn alt_m(&self) -> f64 {
        self.spot.alt_m.unwrap_or(self.station.alt_m)
    }

    /// Hours that clocks are ahead of UTC: as at the station, or by the longitude where that lies far off.
    pub fn utc_offset_h(&self) -> f64 {
        if self.distance_km > FAR_KM { zone_h(self.spot.lon_deg) } else { self.station.utc_offset_h }
    }

    /// Metres that the spot lies above the station.
    fn rise_m(&self) -> f64 {
        self.alt_m() - self.station.alt_m
    }

    fn farness(&self) -> f64 {
        (self.distance_km / FAR_KM).hypot(self.rise_m() / FAR_ALT_M)
    }

    /// Whether the station lies too far off or too much higher or lower for its climate to be the spot's.
    pub fn is_rough(&self) -> bool {
        self.distance_km > FAR_KM || self.rise_m().abs() > FAR_ALT_M
    }

    /// The spot as a place, named as it is written in a message.
    ///
    /// Of each month the clearness is kept (so the radiation follows the spot's own sun), the temperatures fall by
    /// 6.5 K a kilometre, rain stays. Vapour pressure falls to a tenth over 6300 m (Hann), which over the usual lapse
    /// leaves the relative humidity nearly as it was; the dew point is not taken above the minimum unless it lay there
    /// at the station.
    pub fn place(&self) -> Result<Place, SizingError> {
        let months = (1u8..=12).map(|month| self.month(month)).collect::<Result<_, _>>()?;
        let source = self.station.source_and_period();
        Ok(Place {
            name: self.spot.to_string(),
            lat_deg: self.spot.lat_deg,
            lon_deg: self.spot.lon_deg,
            alt_m: self.alt_m(),
            utc_offset_h: self.utc_offset_h(),
            coastal: false,
            season_months: Vec::new(),
            low_water_month: None,
            source: Some(format!("{}, {:.0} km: {source}", self.station.town, self.distance_km)),
            months,
        })
    }

    fn month(&self, month: u8) -> Result<MonthClimate, SizingError> {
        let there = &self.station.months[usize::from(month) - 1];
        let sky = extraterrestrial(self.spot.lat_deg, MEAN_DAY[usize::from(month) - 1])?;
        let cooler_k = LAPSE_K_M * self.rise_m();
        let (t_min_c, t_max_c) = (there.t_min_c - cooler_k, there.t_max_c - cooler_k);
        let rh_percent = there
            .rh_percent
            .map(|rh| {
                let vapour_there = vapour_from_mean_humidity(rh, there.t_min_c, there.t_max_c)?;
                let at_minimum = (vapour_there / saturation_kpa(there.t_min_c)).max(1.0);
                let vapour = vapour_there * 10_f64.powf(-self.rise_m() / VAPOUR_TENTH_M);
                let vapour = vapour.min(at_minimum * saturation_kpa(t_min_c));
                Ok((100.0 * vapour / mean_saturation_kpa(t_min_c, t_max_c)).clamp(1.0, 100.0))
            })
            .transpose()?;
        Ok(MonthClimate {
            h_kwh_m2_day: Some(self.station.clearness(month)? * sky.ra_mj_m2_day / MJ_PER_KWH),
            sunshine_h: None,
            t_min_c,
            t_max_c,
            rh_percent,
            u2_m_s: there.u2_m_s,
            rain_mm: there.rain_mm,
        })
    }
}
