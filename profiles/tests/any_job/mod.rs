//! Any job at all, made from bytes: no bytes give the plainest job, more bytes a fuller one.

mod parts;

use std::collections::BTreeMap;

use profiles::Length;
use profiles::schema::*;

/// Choices, taken from bytes one after the other; 0 when they have run out.
pub struct Choices<'a>(pub &'a [u8]);

impl Choices<'_> {
    fn byte(&mut self) -> usize {
        let Some((first, rest)) = self.0.split_first() else {
            return 0;
        };
        self.0 = rest;
        usize::from(*first)
    }

    /// One of these; the first when in doubt.
    fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.byte() % of.len()].clone()
    }

    fn yes(&mut self) -> bool {
        self.byte() % 2 == 1
    }

    fn perhaps<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.yes().then(|| make(self))
    }

    fn some<T>(&mut self, make: impl Fn(&mut Self) -> T) -> Vec<T> {
        let number = self.byte() % 4;
        (0..number).map(|_| make(self)).collect()
    }

    fn map<T>(&mut self, make: impl Fn(&mut Self) -> T) -> BTreeMap<String, T> {
        self.some(|c| (c.text(), make(c))).into_iter().collect()
    }
}

/// Texts that other readers of YAML take for something else, or trip over.
const ODD: [&str; 54] = [
    "rib",
    "no",
    "yes",
    "true",
    "null",
    "~",
    "",
    " ",
    "1e5",
    "0x10",
    "182.50",
    "007",
    ".nan",
    "-",
    "? ",
    "?",
    "what?",
    "a ? b",
    "a: b",
    "a:",
    ": a",
    "# no comment",
    "a #b",
    "- a",
    "[a",
    "]",
    "{a}",
    "a, b",
    "&a",
    "*a",
    "!a",
    "%a",
    "@a",
    "`a",
    "|",
    ">",
    "'",
    "\"",
    "it's",
    "7 3/16\"",
    "\\n",
    "tab\there",
    "\ttab",
    "  before",
    "after  ",
    "line\nline",
    "line\n\n  deeper\nend\n",
    "\nbefore",
    "after\n\n",
    " before\nline",
    "trailing \nspace",
    "---",
    "<<",
    "...\n---\n",
];

/// Texts of characters that are not letters of English.
const FOREIGN: [&str; 14] = [
    "Öffnung für Gerät",
    "孔の幅",
    "отверстие",
    "😀 ± ″",
    "\u{e000}? ",
    "e\u{301}",
    "\u{a0}",
    "\u{2028}",
    "\u{85}x",
    "\r",
    "a\r\nb",
    "\u{7}bell",
    "\u{feff}mark",
    "\u{7f}\u{fffd}",
];

const LENGTHS: [&str; 21] = [
    "0",
    "182",
    "182.5",
    "182.50",
    "178.0",
    "-3.2",
    "007",
    "+5",
    "182,5",
    "18.2cm",
    "7.1 in",
    "7 3/16",
    "7-3/16",
    "3/16\"",
    "182 - 6",
    "182 + 3/16",
    "182 ± 0.5",
    "182 +- 0.5",
    "?",
    "? 140..260",
    "?140..260",
];

impl Choices<'_> {
    fn text(&mut self) -> String {
        match self.byte() % 8 {
            0..=4 => self.one(&ODD).to_owned(),
            5 => self.one(&FOREIGN).to_owned(),
            6 => self.one(&ODD).to_owned() + self.one(&FOREIGN),
            _ => {
                let number = self.byte() % 12;
                (0..number)
                    .map(|_| {
                        char::from_u32((self.byte() * 256 + self.byte()) as u32).unwrap_or('x')
                    })
                    .collect()
            }
        }
    }

    fn number(&mut self) -> f64 {
        let of = [0.0, 1.0, -2.5, 0.1, 1e-7, 123_456_789.0, 90.0, 1.0 / 3.0];
        self.one(&of)
    }

    fn length(&mut self) -> Length {
        Length::parse(self.one(&LENGTHS)).expect("a length")
    }

    fn lengths<const N: usize>(&mut self) -> [Length; N] {
        std::array::from_fn(|_| self.length())
    }

    fn numbers<const N: usize>(&mut self) -> [f64; N] {
        std::array::from_fn(|_| self.number())
    }

    fn part<T>(&mut self, make: impl Fn(&mut Self) -> T) -> PartUse<T> {
        match self.byte() % 3 {
            0 => PartUse::Named(self.text()),
            1 => {
                let base = self.text();
                match self.map(Self::text) {
                    with if with.is_empty() => PartUse::Named(base),
                    with => PartUse::Changed { base, with },
                }
            }
            _ => PartUse::Inline(Box::new(make(self))),
        }
    }

    /// A job.
    pub fn job(&mut self) -> JobFile {
        JobFile {
            format: FORMAT,
            name: self.text(),
            notes: self.text(),
            proud_limit_mm: self.perhaps(Self::number),
            enter_tilt_deg: self.perhaps(Self::number),
            bend_rules: self.one(&[BendRules::Published, BendRules::Shop]),
            cavity: self.cavity(),
            unit: self.part(Self::unit),
            mount: self.part(Self::mount),
            leads: self.some(Self::lead),
            looms: self.some(Self::loom),
            modules: self.some(Self::module),
            trims: self.some(Self::trim),
            rib_loads: self.some(Self::rib_load),
            cutting: self.cutting(),
            alternatives: self.some(Self::alternative),
        }
    }

    fn alternative(&mut self) -> AlternativeFile {
        AlternativeFile {
            id: self.text(),
            name: self.text(),
            unit: self.perhaps(|c| c.part(Self::unit)),
            mount: self.perhaps(|c| c.part(Self::mount)),
            plugs: self.map(|c| c.part(Self::plug)),
            leads: self.some(Self::lead),
            without: self.some(Self::text),
            move_modules: self.map(|c| c.some(Self::text)),
            notes: self.text(),
        }
    }

    fn cavity(&mut self) -> CavityFile {
        CavityFile {
            opening: OpeningFile {
                width: self.length(),
                height: self.length(),
                corner_radius: self.perhaps(Self::length),
            },
            seat_plane: self.perhaps(Self::length),
            finished_face: self.perhaps(Self::length),
            face_rake: RakeFile {
                top_in_deg: self.number(),
                right_in_deg: self.number(),
            },
            slide_dip_deg: self.number(),
            clear: self.perhaps(Self::length),
            slide_gap: self.perhaps(Self::length),
            stations: self.some(|c| StationFile {
                at: c.length(),
                left: c.perhaps(Self::length),
                right: c.perhaps(Self::length),
                up: c.perhaps(Self::length),
                down: c.perhaps(Self::length),
                outline: c.some(Self::lengths),
                to_next: c.one(&[RunFile::Blended, RunFile::Stepped]),
            }),
            closed: self.yes(),
            obstacles: self.some(Self::obstacle),
            exits: self.some(|c| ExitFile {
                id: c.text(),
                name: c.text(),
                centre: c.lengths(),
                direction: c.numbers(),
                diameter: c.perhaps(Self::length),
                width: c.perhaps(Self::length),
                height: c.perhaps(Self::length),
                corners: c.some(Self::lengths),
                run_beyond: c.perhaps(Self::length),
            }),
            spaces: self.some(|c| SpaceFile {
                id: c.text(),
                name: c.text(),
                size: c.lengths(),
                centre: c.perhaps(Self::lengths),
                exit: c.text(),
                run: c.length(),
            }),
            pockets: self.some(|c| PocketFile {
                id: c.text(),
                name: c.text(),
                block: c.block(),
            }),
            factory_plugs: self.some(|c| FactoryPlugFile {
                id: c.text(),
                name: c.text(),
                at: c.lengths(),
                direction: c.numbers(),
                size: c.lengths(),
                tail: c.perhaps(Self::length),
                pulls_out: c.perhaps(Self::length),
                clear: c.perhaps(Self::length),
            }),
        }
    }

    fn block(&mut self) -> BoxFile {
        BoxFile {
            across: self.lengths(),
            depth: self.lengths(),
            up: self.lengths(),
            turned_deg: self.numbers(),
        }
    }

    fn obstacle(&mut self) -> ObstacleFile {
        ObstacleFile {
            id: self.text(),
            name: self.text(),
            kind: self.one(&[KindFile::Rib, KindFile::HeaterBox, KindFile::Unknown]),
            material: self.perhaps(Self::text),
            block: self.perhaps(Self::block),
            cylinder: self.perhaps(|c| CylinderFile {
                from: c.lengths(),
                to: c.lengths(),
                diameter: c.length(),
            }),
            outline: self.perhaps(|c| OutlineFile {
                plane: c.one(&[PlaneFile::AcrossUp, PlaneFile::DepthUp]),
                corners: c.some(Self::lengths),
                along: c.lengths(),
                turned_deg: c.numbers(),
            }),
            clear: self.perhaps(Self::length),
            cut_keep_out: self.perhaps(Self::length),
            cut: self.one(&[CutFile::Never, CutFile::Ask, CutFile::Allowed]),
            cut_from: self.some(|c| c.one(&[EdgeFile::Near, EdgeFile::Left])),
            max_depth: self.perhaps(Self::length),
            min_from_ends: self.perhaps(Self::length),
            min_web: self.perhaps(Self::length),
            met: self.perhaps(|c| c.one(&[MetFile::Hard, MetFile::NotKnown])),
            joined_to: self.some(Self::text),
            notes: self.text(),
        }
    }

    fn lead(&mut self) -> LeadFile {
        LeadFile {
            id: self.text(),
            name: self.text(),
            socket: self.perhaps(Self::text),
            module: self.perhaps(Self::text),
            plug: self.part(Self::plug),
            cable: self.part(Self::cable),
            cables: self.one(&[1, 0, 7, u32::MAX]),
            length: self.perhaps(Self::length),
            end: LeadEndFile {
                exit: self.perhaps(Self::text),
                module: self.perhaps(Self::text),
                factory_plug: self.perhaps(Self::text),
            },
            beyond: self.perhaps(Self::length),
            turn_plus_minus: self.perhaps(Self::length),
            lumps: self.some(|c| LumpFile {
                name: c.text(),
                size: c.lengths(),
                at: c.length(),
            }),
            through: self.some(Self::lengths),
            slack: SlackFile {
                goes: self.one(&[
                    SlackGoesFile::Stow,
                    SlackGoesFile::Beyond,
                    SlackGoesFile::Cut,
                ]),
                joint_waste: self.perhaps(Self::length),
            },
            service_reach: ServiceReachFile {
                pull_out: self.perhaps(Self::length),
                required: self.yes(),
            },
            notes: self.text(),
        }
    }

    fn loom(&mut self) -> LoomFile {
        LoomFile {
            exit: self.text(),
            wrap: self.perhaps(|c| c.part(Self::wrap)),
            taped: self.some(|c| TapedFile {
                name: c.text(),
                leads: c.some(Self::text),
                wrap: c.perhaps(|c| c.part(Self::wrap)),
            }),
        }
    }

    fn module(&mut self) -> ModuleFile {
        ModuleFile {
            id: self.text(),
            name: self.text(),
            part: self.part(Self::module_part),
            pinned: self.perhaps(Self::block),
            may_go_to: self.some(Self::text),
            lead_length: self.perhaps(Self::length),
            notes: self.text(),
        }
    }
}
