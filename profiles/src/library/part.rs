//! What every part of the library has: an id, a name, and where its figures come from.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::{Library, Shelf};
use crate::schema::{
    CablePart, MaterialPart, ModulePart, MountPart, PlugPart, Provenance, ToolPart, UnitPart,
    WrapPart,
};

/// The kinds of parts, in the order they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartKind {
    /// Units.
    Unit,
    /// Mounts.
    Mount,
    /// Plugs.
    Plug,
    /// Cables and wires.
    Cable,
    /// Wraps.
    Wrap,
    /// Modules.
    Module,
    /// Cutting tools.
    Tool,
    /// Materials.
    Material,
}

impl PartKind {
    /// The word for one of them.
    pub fn word(self) -> &'static str {
        match self {
            PartKind::Unit => "unit",
            PartKind::Mount => "mount",
            PartKind::Plug => "plug",
            PartKind::Cable => "cable",
            PartKind::Wrap => "wrap",
            PartKind::Module => "module",
            PartKind::Tool => "tool",
            PartKind::Material => "material",
        }
    }
}

/// A part that the library holds.
pub trait Part: Clone + Serialize + DeserializeOwned + Send + Sync + 'static {
    /// Which kind it is.
    const KIND: PartKind;

    /// Its short name, unique among its kind.
    fn id(&self) -> &str;

    /// What the installer calls it.
    fn name(&self) -> &str;

    /// Where its figures come from.
    fn known(&self) -> &Provenance;

    /// Where the library keeps its kind.
    fn shelf(library: &Library) -> &Shelf<Self>;
}

macro_rules! part {
    ($part:ident, $kind:ident, $shelf:ident) => {
        impl Part for $part {
            const KIND: PartKind = PartKind::$kind;

            fn id(&self) -> &str {
                &self.id
            }

            fn name(&self) -> &str {
                &self.name
            }

            fn known(&self) -> &Provenance {
                &self.known
            }

            fn shelf(library: &Library) -> &Shelf<Self> {
                &library.$shelf
            }
        }
    };
}

part!(UnitPart, Unit, units);
part!(MountPart, Mount, mounts);
part!(PlugPart, Plug, plugs);
part!(CablePart, Cable, cables);
part!(WrapPart, Wrap, wraps);
part!(ModulePart, Module, modules);
part!(ToolPart, Tool, tools);
part!(MaterialPart, Material, materials);
