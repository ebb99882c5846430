//! What is found while a job is turned into numbers: faults, and measures
//! that could not be taken.

use geometry::Measure;

use crate::length::Length;
use crate::problem::{Problem, Severity, quoted};

/// One thing wrong with a document: a [`Problem`] that has no line yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Whether the job can be answered in spite of it.
    pub severity: Severity,
    /// Where in the document, as `cavity.obstacles[2].box.depth`; empty = the whole document.
    pub field: String,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
}

impl Fault {
    /// The same as a problem of a file.
    ///
    /// * `file`: its name; empty for a document not yet saved
    /// * `line`: the line of [`Fault::field`], counted from 1; 0 where there is none
    pub fn in_file(self, file: &str, line: usize) -> Problem {
        Problem {
            severity: self.severity,
            file: file.to_owned(),
            line,
            field: self.field,
            found: self.found,
            allowed: self.allowed,
        }
    }
}

/// A place in the document, as `cavity.obstacles[2].box.depth`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Field(String);

impl Field {
    /// A field at the top of the document.
    pub fn top(name: &str) -> Field {
        Field(name.to_owned())
    }

    /// A field of this one.
    pub fn key(&self, name: &str) -> Field {
        Field(format!("{}.{name}", self.0))
    }

    /// An item of this list, counted from 0.
    pub fn item(&self, index: usize) -> Field {
        Field(format!("{}[{index}]", self.0))
    }

    /// The place as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What is left of this place below `root`: `chassis.depth` of
    /// `unit.chassis.depth` below `unit`; `None` when it lies elsewhere.
    fn below<'a>(&'a self, root: &str) -> Option<&'a str> {
        let rest = self.0.strip_prefix(root)?;
        match rest.as_bytes().first() {
            None => Some(rest),
            Some(b'.') => Some(&rest[1..]),
            Some(b'[') => Some(rest),
            Some(_) => None,
        }
    }
}

/// What a length may be, mm, and the span a bare `?` takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Range {
    low: f64,
    low_included: bool,
    high: f64,
    span: Option<[f64; 2]>,
}

impl Range {
    /// A place in the frame: nothing of a dash lies further than 3 m from its opening.
    pub const COORDINATE: Range = Range::from_to(-3000.0, 3000.0);
    /// A size: more than nothing.
    pub const SIZE: Range = Range::above_zero_to(3000.0);
    /// A room or a thickness that may be nothing.
    pub const ROOM: Range = Range::from_to(0.0, 3000.0);
    /// A length of lead.
    pub const RUN: Range = Range::from_to(0.0, 20_000.0);
    /// Outside diameter of one wire.
    pub const WIRE: Range = Range::above_zero_to(25.0);
    /// One layer of what goes round a loom.
    pub const LAYER: Range = Range::above_zero_to(25.0);
    /// Hole drilled at the inner corner of a notch.
    pub const STOP_HOLE: Range = Range::from_to(0.0, 40.0);
    /// Trim on a cut edge.
    pub const EDGE_TRIM: Range = Range::from_to(0.0, 10.0);
    /// Step on which sides of notches lie.
    pub const SNAP: Range = Range::from_to(0.5, 25.4);
    /// A size of a cutting tool.
    pub const TOOL: Range = Range::above_zero_to(500.0);
    /// Width of a cut.
    pub const KERF: Range = Range::from_to(0.0, 10.0);
    /// Width or height of a unit.
    pub const UNIT_FACE: Range = Range::above_zero_to(600.0);
    /// Depth of a unit.
    pub const UNIT_DEPTH: Range = Range::above_zero_to(500.0);

    const fn from_to(low: f64, high: f64) -> Range {
        Range {
            low,
            low_included: true,
            high,
            span: None,
        }
    }

    const fn above_zero_to(high: f64) -> Range {
        Range {
            low: 0.0,
            low_included: false,
            high,
            span: None,
        }
    }

    /// The same, with the span that a bare `?` takes, mm.
    pub const fn or_within(self, low: f64, high: f64) -> Range {
        Range {
            span: Some([low, high]),
            ..self
        }
    }

    fn holds(&self, value: f64) -> bool {
        let above = if self.low_included {
            value >= self.low
        } else {
            value > self.low
        };
        above && value <= self.high
    }

    fn allowed(&self) -> String {
        if self.low_included {
            format!("{} to {} mm", self.low, self.high)
        } else {
            format!("more than {}, up to {} mm", self.low, self.high)
        }
    }
}

/// Where the fields of a resolved part were really written.
#[derive(Clone, Debug)]
struct PartOrigin {
    /// The field that uses the part.
    root: String,
    /// Its name in the library.
    base: String,
    /// Fields set by `with:`: the place in the part, and the key as written.
    with: Vec<(String, String)>,
}

/// Everything found so far.
#[derive(Clone, Debug, Default)]
pub(super) struct Findings {
    faults: Vec<Fault>,
    unmeasured: Vec<String>,
    origins: Vec<PartOrigin>,
}

impl Findings {
    /// The faults, each placed where it was written, and the names of the
    /// measures that could not be taken.
    pub fn into_parts(self) -> (Vec<Fault>, Vec<String>) {
        (self.faults, self.unmeasured)
    }

    /// Something that keeps the job from being answered.
    pub fn error(&mut self, at: &Field, found: impl Into<String>, allowed: impl Into<String>) {
        self.add(Severity::Error, at, found.into(), allowed.into());
    }

    /// Something the answer goes on in spite of.
    pub fn warning(&mut self, at: &Field, found: impl Into<String>, allowed: impl Into<String>) {
        self.add(Severity::Warning, at, found.into(), allowed.into());
    }

    /// Remembers that everything below `root` comes from a part of the library.
    ///
    /// * `with`: the places in the part that the document itself sets, and how it names them
    pub fn part_comes_from(&mut self, root: &Field, base: &str, with: Vec<(String, String)>) {
        self.origins.push(PartOrigin {
            root: root.as_str().to_owned(),
            base: base.to_owned(),
            with,
        });
    }

    fn add(&mut self, severity: Severity, at: &Field, found: String, allowed: String) {
        let (field, found) = self.as_written(at, found);
        let fault = Fault {
            severity,
            field,
            found,
            allowed,
        };
        if !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
    }

    /// The place a person has to look at: for a field of a library part, the
    /// `with:` that set it, or else the field that named the part.
    fn as_written(&self, at: &Field, found: String) -> (String, String) {
        let Some((origin, rest)) = self
            .origins
            .iter()
            .filter_map(|origin| Some((origin, at.below(&origin.root)?)))
            .max_by_key(|(origin, _)| origin.root.len())
            .filter(|(_, rest)| !rest.is_empty())
        else {
            return (at.as_str().to_owned(), found);
        };
        let set_here = origin
            .with
            .iter()
            .find(|(place, _)| Field(rest.to_owned()).below(place).is_some());
        match set_here {
            Some((_, key)) => (format!("{}.with.{key}", origin.root), found),
            // The part that names this one may itself come from the library.
            None => self.as_written(
                &Field(origin.root.clone()),
                format!(
                    "{found} ({rest} of {} in the library)",
                    quoted(&origin.base)
                ),
            ),
        }
    }

    /// Reads a measured length, mm.
    ///
    /// * `what`: the measure in plain words, as "depth of the heater box"
    /// * `range`: what it may be
    pub fn measure(&mut self, length: &Length, at: &Field, what: &str, range: Range) -> Measure {
        let Some(measure) = length
            .measure()
            .or_else(|| range.span.map(|[low, high]| Measure::unmeasured(low, high)))
        else {
            self.error(
                at,
                "a bare ?",
                "? with its span, as ? 20..30: nothing usual is known of this measure",
            );
            return Measure::exact(range.low.max(1.0));
        };
        if !measure.is_measured() && !self.unmeasured.iter().any(|known| known == what) {
            self.unmeasured.push(what.to_owned());
        }
        if !range.holds(measure.value()) {
            self.error(at, written(length), range.allowed());
        } else if range.low == 0.0 && measure.low() < 0.0 {
            self.error(at, written(length), "a band that does not reach below 0 mm");
        }
        measure
    }

    /// Reads a length whose ± plays no part, mm: its value, or the middle of its span.
    pub fn plain(&mut self, length: &Length, at: &Field, what: &str, range: Range) -> f64 {
        self.measure(length, at, what, range).value()
    }

    /// Reads a length that may be left out, mm.
    pub fn plain_or(
        &mut self,
        length: Option<&Length>,
        at: &Field,
        what: &str,
        range: Range,
        default: f64,
    ) -> f64 {
        length.map_or(default, |length| self.plain(length, at, what, range))
    }
}

/// A length as found in the file, for a message.
pub(super) fn written(length: &Length) -> String {
    quoted(length.as_written())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_of_a_library_part_is_reported_where_it_was_written() {
        let mut findings = Findings::default();
        let unit = Field::top("unit");
        let with = vec![(
            "sockets[2].at[0]".to_owned(),
            "sockets.hdmi.at.0".to_owned(),
        )];
        findings.part_comes_from(&unit, "full_depth", with);
        let sockets = unit.key("sockets");
        findings.error(&sockets.item(2).key("at").item(0), "9000", "less");
        findings.error(&sockets.item(20).key("at").item(0), "9000", "less");
        let (faults, _) = findings.into_parts();
        assert_eq!(faults[0].field, "unit.with.sockets.hdmi.at.0");
        assert_eq!(faults[0].found, "9000");
        assert_eq!(faults[1].field, "unit");
        assert_eq!(
            faults[1].found,
            "9000 (sockets[20].at[0] of \"full_depth\" in the library)"
        );
    }

    #[test]
    fn a_bare_question_mark_takes_its_fields_span_or_is_refused() {
        let mut findings = Findings::default();
        let at = Field::top("depth");
        let unknown = Length::parse("?").expect("a bare `?` is a length");
        let range = Range::COORDINATE.or_within(140.0, 260.0);
        let depth = findings.measure(&unknown, &at, "depth of the heater box", range);
        assert_eq!((depth.low(), depth.high()), (140.0, 260.0));
        findings.measure(&unknown, &at, "left face of the heater box", Range::SIZE);
        let (faults, unmeasured) = findings.into_parts();
        assert_eq!(unmeasured, ["depth of the heater box"]);
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].found, "a bare ?");
    }
}
