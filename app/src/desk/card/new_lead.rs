//! A lead for a free socket, with the plug and the cable that are usual there.

use geometry::Socket;
use profiles::schema::{
    CablePart, LeadEndFile, LeadFile, PartUse, PlugPart, ServiceReachFile, SlackFile, SlackGoesFile,
};

use super::Card;
use super::list::free_id;

/// Sockets of the unit that no lead plugs into yet.
pub fn free_sockets<'a>(card: &Card<'a>) -> Vec<&'a Socket> {
    let taken = |socket: &&Socket| {
        let leads = &card.job.leads;
        (leads.iter()).any(|lead| lead.socket.as_ref() == Some(&socket.id))
    };
    card.model.job.as_ref().map_or(Vec::new(), |job| {
        job.unit.sockets.iter().filter(|it| !taken(it)).collect()
    })
}

/// A lead for a socket: the first plug of its family and what usually leaves
/// that plug, its length not known.
///
/// * `exit`: the exit it ends at (its id)
pub fn new_lead(card: &Card, socket: &Socket, exit: Option<&str>) -> Option<LeadFile> {
    let library = card.library;
    let plug = (library.ids::<PlugPart>())
        .filter_map(|id| library.get::<PlugPart>(id))
        .find(|plug| plug.family == socket.family)?;
    let (cable, cables) = match &plug.usual {
        Some(usual) => (usual.cable.clone(), usual.cables),
        None => (library.ids::<CablePart>().next()?.to_owned(), 1),
    };
    Some(LeadFile {
        id: free_id("lead", card.job.leads.iter().map(|lead| lead.id.as_str())),
        name: lead_name(&socket.name),
        socket: Some(socket.id.clone()),
        module: None,
        plug: PartUse::Named(plug.id.clone()),
        cable: PartUse::Named(cable),
        cables,
        length: None,
        end: LeadEndFile {
            exit: exit.map(str::to_owned),
            ..LeadEndFile::default()
        },
        beyond: None,
        turn_plus_minus: None,
        lumps: Vec::new(),
        through: Vec::new(),
        slack: SlackFile {
            goes: SlackGoesFile::Stow,
            joint_waste: None,
        },
        service_reach: ServiceReachFile::default(),
        notes: String::new(),
    })
}

/// `video socket` gives `video lead`.
fn lead_name(socket: &str) -> String {
    let what = (socket.strip_suffix(" sockets"))
        .or_else(|| socket.strip_suffix(" socket"))
        .unwrap_or(socket);
    format!("{what} lead")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lead_is_called_after_its_socket() {
        assert_eq!(lead_name("video socket"), "video lead");
        assert_eq!(lead_name("rear RCA sockets"), "rear RCA lead");
        assert_eq!(lead_name("aerial"), "aerial lead");
    }
}
