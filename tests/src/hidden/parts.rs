//! Which leads a hidden cavity has: plugs and cables of the library.

use crate::chance::Chance;

/// A lead of the trade, by its parts in the library.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// What the installer calls it.
    pub name: &'static str,
    /// Its plug.
    pub plug: &'static str,
    /// The same plug turned square, where there is one.
    pub square: Option<&'static str>,
    /// Its cable.
    pub cable: &'static str,
    /// How many cables leave the plug.
    pub cables: u32,
}

const fn kind(
    name: &'static str,
    plug: &'static str,
    square: Option<&'static str>,
    cable: &'static str,
    cables: u32,
) -> Kind {
    Kind {
        name,
        plug,
        square,
        cable,
        cables,
    }
}

/// What plugs into the back of a unit.
pub const LEADS: [Kind; 15] = [
    kind("main plug", "main_20way", None, "power_tail", 1),
    kind("AV plug", "av_16way", None, "av_tail", 1),
    kind(
        "aerial lead",
        "aerial",
        Some("aerial_right_angle"),
        "aerial_lead",
        1,
    ),
    kind("second aerial", "auto_coax", None, "mini_coax", 1),
    kind("satellite aerial", "small_coax", None, "satellite_lead", 1),
    kind("USB lead", "usb_a", Some("usb_a_right_angle"), "usb_2", 1),
    kind(
        "phone lead",
        "usb_c",
        Some("usb_c_right_angle"),
        "usb_c_full",
        1,
    ),
    kind("video lead", "hdmi_a", None, "hdmi_slim", 1),
    kind("screen lead", "hdmi_d", None, "hdmi_slim", 1),
    kind("front RCA pair", "rca_pair", None, "rca_lead", 2),
    kind("rear RCA pair", "rca_pair", None, "rca_lead", 2),
    kind(
        "camera lead",
        "rca",
        Some("rca_right_angle"),
        "camera_lead",
        1,
    ),
    kind("woofer lead", "rca", Some("rca_right_angle"), "rca_lead", 1),
    kind(
        "microphone lead",
        "jack_3_5",
        Some("jack_3_5_right_angle"),
        "mic_lead",
        1,
    ),
    kind("wheel-control lead", "jack_3_5", None, "wheel_tail", 1),
];

/// What a module may carry.
pub const CARRIED: [Kind; 3] = [
    kind("lead of the module", "usb_a", None, "usb_2", 1),
    kind("camera lead of the module", "rca", None, "camera_lead", 1),
    kind("tail of the module", "jack_3_5", None, "wheel_tail", 1),
];

/// Modules by their parts in the library.
pub const MODULES: [&str; 3] = ["data_interface", "small_interface", "camera_switch"];

/// So many different leads, the main plug always among them; now and then a
/// plug turned square.
pub fn choose(count: usize, chance: &mut Chance) -> Vec<Kind> {
    let mut kinds = LEADS;
    chance.shuffle(&mut kinds[1..]);
    kinds[..count]
        .iter()
        .map(|kind| match kind.square {
            Some(square) if chance.happens(0.25) => Kind {
                plug: square,
                ..*kind
            },
            _ => *kind,
        })
        .collect()
}
