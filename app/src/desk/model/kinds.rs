//! Kinds of obstacle as a file names them, and as geometry does.

use geometry::Kind;
use profiles::schema::KindFile;

/// What a file's kind is called in the other rooms.
pub fn kind_of(kind: KindFile) -> Kind {
    match kind {
        KindFile::Rib => Kind::Rib,
        KindFile::Shelf => Kind::Shelf,
        KindFile::Boss => Kind::Boss,
        KindFile::Bracket => Kind::Bracket,
        KindFile::Beam => Kind::Beam,
        KindFile::Duct => Kind::Duct,
        KindFile::HeaterBox => Kind::HeaterBox,
        KindFile::Loom => Kind::Loom,
        KindFile::AirbagPart => Kind::AirbagPart,
        KindFile::ColumnSupport => Kind::ColumnSupport,
        KindFile::KneeSupport => Kind::KneeSupport,
        KindFile::HighVoltage => Kind::HighVoltage,
        KindFile::CoolantPipe => Kind::CoolantPipe,
        KindFile::RefrigerantPipe => Kind::RefrigerantPipe,
        KindFile::KeyAerial => Kind::KeyAerial,
        KindFile::Vent => Kind::Vent,
        KindFile::Switch => Kind::Switch,
        KindFile::Selector => Kind::Selector,
        KindFile::Column => Kind::Column,
        KindFile::Unknown => Kind::Unknown,
    }
}
