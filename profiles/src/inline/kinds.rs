//! The words of a file and the kinds of [`geometry`] they stand for.

use geometry::{
    Acts, BendLine, Edge, Kind, MaterialFamily, NoseSeat, Plane, RearStyle, RuleSet, Run, Side,
    SlackGoes, SocketFace, TabDecision, Works,
};

use crate::schema::{
    ActsFile, BendLineFile, BendRules, EdgeFile, FaceFile, FamilyFile, KindFile, NoseSeatFile,
    PlaneFile, RearStyleFile, RunFile, SideFile, SlackGoesFile, TabDecisionFile, WorksFile,
};

/// Writes `From` for two enums whose variants bear the same names.
macro_rules! same_words {
    ($($file:ident => $plain:ident { $($word:ident),+ $(,)? })+) => {
        $(impl From<$file> for $plain {
            fn from(word: $file) -> $plain {
                match word {
                    $($file::$word => $plain::$word,)+
                }
            }
        })+
    };
}

same_words! {
    KindFile => Kind {
        Rib, Shelf, Boss, Bracket, Beam, Duct, HeaterBox, Loom, AirbagPart, ColumnSupport,
        KneeSupport, HighVoltage, CoolantPipe, RefrigerantPipe, KeyAerial, Vent, Switch,
        Selector, Column, Unknown,
    }
    FamilyFile => MaterialFamily { Plastic, Steel, LightAlloy, Soft, Wire, Unknown }
    ActsFile => Acts { InPlane, OutOfPlane }
    EdgeFile => Edge { Near, Far, Upper, Lower, Left, Right }
    PlaneFile => Plane { AcrossUp, AcrossDepth, DepthUp }
    RunFile => Run { Blended, Stepped }
    SideFile => Side { Left, Right, Top, Bottom }
    NoseSeatFile => NoseSeat { Laps, Enters }
    RearStyleFile => RearStyle { Pin, Strap }
    TabDecisionFile => TabDecision { Keep, Remove, NotSure }
    SlackGoesFile => SlackGoes { Stow, Beyond, Cut }
    WorksFile => Works { EndFirst, RoundTheEdge }
    BendRules => RuleSet { Published, Shop }
    BendLineFile => BendLine { Inside, Centreline }
}

impl From<FaceFile> for SocketFace {
    fn from(face: FaceFile) -> SocketFace {
        match face {
            FaceFile::Rear => SocketFace::Rear,
            FaceFile::Left => SocketFace::On(Side::Left),
            FaceFile::Right => SocketFace::On(Side::Right),
            FaceFile::Top => SocketFace::On(Side::Top),
            FaceFile::Bottom => SocketFace::On(Side::Bottom),
        }
    }
}
