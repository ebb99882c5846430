//! Any part at all.

use profiles::schema::*;

use super::Choices;

impl Choices<'_> {
    pub fn known(&mut self) -> Provenance {
        Provenance {
            source: self.text(),
            how: self.one(&[HowKnown::NotSaid, HowKnown::Read, HowKnown::Measured]),
            note: self.text(),
        }
    }

    pub fn unit(&mut self) -> UnitPart {
        UnitPart {
            id: self.text(),
            name: self.text(),
            chassis: ChassisFile {
                width: self.length(),
                height: self.length(),
                depth: self.length(),
                datum: self.one(&[DatumFile::NoseBack, DatumFile::BracketHole]),
                datum_behind_nose: self.perhaps(Self::length),
                offset: self.perhaps(Self::lengths),
            },
            nose: NoseFile {
                width: self.length(),
                height: self.length(),
                thickness: self.length(),
                seat: self.one(&[NoseSeatFile::Laps, NoseSeatFile::Enters]),
                trim_ring: self.perhaps(|c| TrimRingFile {
                    width: c.length(),
                    height: c.length(),
                    lip: c.perhaps(Self::length),
                }),
            },
            overhang: self.perhaps(|c| OverhangFile {
                width: c.length(),
                height: c.length(),
                thickness: c.length(),
                stands_off: c.length(),
                offset: c.perhaps(Self::lengths),
            }),
            side_holes: self.some(Self::hole),
            sockets: self.some(|c| SocketFile {
                id: c.text(),
                name: c.text(),
                face: c.one(&[FaceFile::Rear, FaceFile::Top]),
                at: c.lengths(),
                family: c.text(),
                stands_out: c.perhaps(Self::length),
            }),
            vents: self.some(|c| VentFile {
                name: c.text(),
                face: c.one(&[FaceFile::Rear, FaceFile::Left]),
                at: c.lengths(),
                size: c.lengths(),
                fan: c.yes(),
            }),
            rear_support: self.perhaps(|c| RearSupportFile {
                style: c.one(&[RearStyleFile::Pin, RearStyleFile::Strap]),
                at: c.lengths(),
                width: c.length(),
                length: c.length(),
                required: c.yes(),
            }),
            mass_kg: self.number(),
            max_dip_deg: self.perhaps(Self::number),
            remote_module: self.perhaps(|c| c.part(Self::module_part)),
            known: self.known(),
        }
    }

    fn hole(&mut self) -> HoleFile {
        HoleFile {
            id: self.text(),
            side: self.perhaps(|c| c.one(&[SideFile::Left, SideFile::Right])),
            depth: self.length(),
            up: self.length(),
            diameter: self.length(),
            slot: self.perhaps(Self::length),
        }
    }

    fn side_bracket(&mut self) -> SideBracketFile {
        SideBracketFile {
            thickness: self.length(),
            height: self.length(),
            length: self.length(),
        }
    }

    pub fn mount(&mut self) -> MountPart {
        MountPart {
            id: self.text(),
            name: self.text(),
            setback: self.length(),
            factory_brackets: self.perhaps(|c| FactoryBracketsFile {
                bracket: c.side_bracket(),
                holes: c.some(Self::hole),
                screw_head_height: c.perhaps(Self::length),
                screw_head_diameter: c.perhaps(Self::length),
            }),
            sleeve: self.perhaps(|c| SleeveFile {
                wall: c.length(),
                depth: c.length(),
            }),
            kit_pocket: self.perhaps(|c| KitPocketFile {
                bracket: c.perhaps(Self::side_bracket),
                side_room: c.perhaps(Self::length),
                tabs: c.some(|c| TabFile {
                    id: c.text(),
                    name: c.text(),
                    across: c.lengths(),
                    depth: c.lengths(),
                    up: c.lengths(),
                    grows_from: c.one(&[SideFile::Top, SideFile::Bottom]),
                    decision: c.one(&[TabDecisionFile::Keep, TabDecisionFile::NotSure]),
                }),
            }),
            takes_rear_support: self.yes(),
            known: self.known(),
        }
    }

    pub fn plug(&mut self) -> PlugPart {
        PlugPart {
            id: self.text(),
            name: self.text(),
            family: self.text(),
            width: self.length(),
            height: self.length(),
            straight: self.perhaps(|c| StraightFile {
                body: c.length(),
                relief: c.perhaps(Self::length),
                relief_diameter: c.perhaps(Self::length),
            }),
            right_angle: self.perhaps(|c| RightAngleFile {
                stands: c.length(),
                toward: c.one(&[SideFile::Left, SideFile::Bottom]),
                reach: c.length(),
            }),
            mating_depth: self.perhaps(Self::length),
            usual: self.perhaps(|c| UsualFile {
                cable: c.text(),
                cables: c.one(&[1, 2, 4]),
            }),
            known: self.known(),
        }
    }

    fn bend_rule(&mut self) -> BendRuleFile {
        BendRuleFile {
            times_od: self.perhaps(Self::number),
            radius: self.perhaps(Self::length),
            measured: self.one(&[BendLineFile::Inside, BendLineFile::Centreline]),
            straight_run_times_od: self.number(),
            known: self.known(),
        }
    }

    pub fn cable(&mut self) -> CablePart {
        CablePart {
            id: self.text(),
            name: self.text(),
            od: self.length(),
            wires: self.perhaps(|c| WiresFile {
                count: c.one(&[1, 0, 7, u32::MAX]),
                od: c.length(),
            }),
            published: self.bend_rule(),
            shop: self.perhaps(Self::bend_rule),
            fold: self.perhaps(Self::bend_rule),
            known: self.known(),
        }
    }

    pub fn wrap(&mut self) -> WrapPart {
        WrapPart {
            id: self.text(),
            name: self.text(),
            thickness: self.length(),
            layers: self.one(&[1, 0, 7, u32::MAX]),
            known: self.known(),
        }
    }

    pub fn trim(&mut self) -> TrimFile {
        TrimFile {
            rib: self.text(),
            edge: self.one(&[EdgeFile::Lower, EdgeFile::Far, EdgeFile::Left]),
            along: self.lengths(),
            depth: self.length(),
            radius: self.perhaps(Self::length),
            locked: self.yes(),
            doubler: self.perhaps(Self::strip),
        }
    }

    pub fn rib_load(&mut self) -> RibLoadFile {
        RibLoadFile {
            rib: self.text(),
            along: self.length(),
            acts: self.one(&[ActsFile::InPlane, ActsFile::OutOfPlane]),
            force_n: self.number(),
        }
    }

    fn strip(&mut self) -> StripFile {
        StripFile {
            thickness: self.perhaps(Self::length),
            height: self.perhaps(Self::length),
            lap: self.perhaps(Self::length),
            e_modulus_mpa: self.perhaps(Self::number),
        }
    }

    pub fn cutting(&mut self) -> CuttingFile {
        CuttingFile {
            tool: self.perhaps(|c| c.part(Self::tool)),
            stop_hole: self.perhaps(Self::length),
            edge_trim: self.perhaps(Self::length),
            snap: self.perhaps(Self::length),
            keep_stiffness_percent: self.perhaps(Self::number),
            ask_agreed: self.yes(),
            leave_alone: self.some(Self::text),
            strip: self.strip(),
        }
    }

    fn tool(&mut self) -> ToolPart {
        ToolPart {
            id: self.text(),
            name: self.text(),
            works: self.one(&[WorksFile::EndFirst, WorksFile::RoundTheEdge]),
            shank: self.lengths(),
            reach: self.length(),
            kerf: self.length(),
            blade: self.lengths(),
            behind: self.perhaps(Self::length),
            known: self.known(),
        }
    }

    pub fn module_part(&mut self) -> ModulePart {
        ModulePart {
            id: self.text(),
            name: self.text(),
            size: self.lengths(),
            clear: self.perhaps(Self::length),
            known: self.known(),
        }
    }
}
