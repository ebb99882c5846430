//! Leads of the plain job: where each starts, how thick it is, how it may bend.

use glam::DVec3;
use serde_json::Value;

use super::ports::{Chassis, Mouth, Port, side};
use super::read::{Unreadable, flat, list, number, text};

/// A lead.
pub struct Lead {
    /// Its id.
    pub id: String,
    /// What it starts from.
    pub from: Port,
    /// What it ends at.
    pub to: Port,
    /// Where its cable leaves the plug in its socket, half the plug's size
    /// across, and stiff length up to there, mm; `None` when a module carries it.
    pub start: Option<(Mouth, DVec3, f64)>,
    /// How many cables it has.
    pub cables: u32,
    /// Diameter of one cable, mm.
    pub od: f64,
    /// Tightest turn at its middle, mm.
    pub radius: f64,
    /// Straight run behind the plug, mm.
    pub straight_run: f64,
    /// Its length, mm, where known.
    pub length: Option<f64>,
    /// Further run after the exit, mm.
    pub beyond: f64,
    /// Length lost in a joint, mm.
    pub joint_waste: f64,
    /// Lumps in it: from the plug's mating face to its middle, length, least thickness, mm.
    pub lumps: Vec<[f64; 3]>,
    /// Points its first cable passes in this order, mm.
    pub through: Vec<DVec3>,
}

impl Lead {
    /// A lead of a plain job.
    pub fn read(value: &Value, plain: &Value, chassis: &Chassis) -> Result<Lead, Unreadable> {
        let id = text(value, "id")?;
        let port = |of: &Value| {
            let find = |key: &str| of[key].as_str().map(str::to_owned);
            None.or(find("socket").map(Port::Socket))
                .or(find("module").map(Port::Module))
                .or(find("exit").map(Port::Exit))
                .or(find("factory_plug").map(Port::FactoryPlug))
                .ok_or_else(|| Unreadable(format!("start or end of {id}")))
        };
        let (from, to) = (port(&value["from"])?, port(&value["end"])?);
        let one = number(value, "od_mm")?;
        let lump = |lump: &Value| {
            let size = super::read::point(lump, "size_mm")?;
            Ok([number(lump, "at_mm")?, size.x, size.y.min(size.z)])
        };
        Ok(Lead {
            start: match &from {
                Port::Socket(socket) => Some(start(value, socket, plain, chassis)?),
                _ => None,
            },
            cables: number(value, "cables")? as u32,
            od: one,
            radius: radius(value, &text(plain, "bend_rules")?, one)?,
            straight_run: number(value, "straight_run_mm")?,
            length: value["length_mm"].as_f64(),
            beyond: value["beyond_mm"].as_f64().unwrap_or(0.0),
            joint_waste: number(&value["slack"], "joint_waste_mm")?,
            lumps: list(value, "lumps")?
                .iter()
                .map(lump)
                .collect::<Result<_, _>>()?,
            through: points_to_pass(value)?,
            id,
            from,
            to,
        })
    }
}

/// The points a lead is to pass; none where nothing is said of them.
fn points_to_pass(lead: &Value) -> Result<Vec<DVec3>, Unreadable> {
    if lead["through_mm"].is_null() {
        return Ok(Vec::new());
    }
    let read = |point: &Value| {
        super::read::three(point).ok_or_else(|| Unreadable(format!("a point to pass: {point}")))
    };
    list(lead, "through_mm")?.iter().map(read).collect()
}

impl Lead {
    /// Diameter of all its cables laid as one, mm.
    ///
    /// Ratios of the smallest circle around up to seven equal ones: R. L. Graham,
    /// B. D. Lubachevsky, K. J. Nurmela, P. R. J. Östergård, "Congruent circles
    /// packed in a circle", 1998 (from memory). More than seven: by area, which
    /// no packing beats.
    pub fn together(&self) -> f64 {
        const RATIOS: [f64; 8] = [1.0, 1.0, 2.0, 2.154_700, 2.414_213, 2.701_301, 3.0, 3.0];
        match RATIOS.get(self.cables as usize) {
            Some(ratio) => ratio * self.od,
            None => f64::from(self.cables).sqrt() * self.od,
        }
    }
}

/// Where a cable leaves the plug in a socket, half the plug's size across, and
/// the stiff length up to there.
fn start(
    lead: &Value,
    socket: &str,
    plain: &Value,
    chassis: &Chassis,
) -> Result<(Mouth, DVec3, f64), Unreadable> {
    let sockets = list(&plain["unit"], "sockets")?;
    let found = sockets.iter().find(|it| it["id"] == socket);
    let found = found.ok_or_else(|| Unreadable(format!("no socket {socket}")))?;
    let face = chassis.mouth(&text(found, "face")?, flat(&found["at_mm"])?)?;
    let socket_face = face.at + number(found, "stands_out_mm")? * face.way;
    let plug = &lead["plug"];
    let style = &plug["style"];
    let half = 0.5 * face.lying(number(plug, "width_mm")?, number(plug, "height_mm")?);
    if style["straight"].is_object() {
        let of = &style["straight"];
        let stiff = number(of, "body_mm")? + number(of, "relief_mm")?;
        let at = socket_face + stiff * face.way;
        return Ok((Mouth { at, way: face.way }, half, stiff));
    }
    let of = &style["right_angle"];
    let (out, reach) = (0.5 * number(of, "stands_mm")?, number(of, "reach_mm")?);
    let way = side(&text(of, "toward")?)?;
    let at: DVec3 = socket_face + out * face.way + reach * way;
    Ok((Mouth { at, way }, half, out + reach))
}

/// The tightest turn at the middle of a cable by the job's set of rules, mm.
fn radius(lead: &Value, rules: &str, od: f64) -> Result<f64, Unreadable> {
    let rule = &lead[rules];
    let stated = match rule["stated"]["times_od"].as_f64() {
        Some(times) => times * od,
        None => number(&rule["stated"], "radius_mm")?,
    };
    Ok(match text(rule, "measured")?.as_str() {
        "inside" => stated + 0.5 * od,
        _ => stated,
    })
}
