//! What one step changed, and no more than that: the old and the new value of
//! each part of the job that differs, and of a list only the stretch that does.
//!
//! A step so kept is small, so that there is no end to how many are kept.

use profiles::schema::*;

/// A part of the job before and after, when it differs.
pub type Swap<T> = Option<Box<[T; 2]>>;

/// The stretch of a list that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch<T> {
    /// Where it begins, from 0.
    pub at: usize,
    /// What was there.
    pub before: Vec<T>,
    /// What is there now.
    pub after: Vec<T>,
}

/// A list, when some of it differs.
pub type Listed<T> = Option<Box<Stretch<T>>>;

/// Which way a patch is put on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// From what was to what came of it.
    On,
    /// Back to what was.
    Back,
}

/// Makes the patch from the parts of a job, all of them: a part that is left
/// out here does not compile.
macro_rules! patch {
    (
        job: $($whole:ident: $type:ty,)* ;
        lists: $($list:ident: $item:ty,)* ;
        cavity: $($part:ident: $part_type:ty,)* ;
        cavity lists: $($part_list:ident: $part_item:ty,)*
    ) => {
        /// What one step changed.
        #[derive(Clone, Debug, Default, PartialEq)]
        #[allow(missing_docs)] // each is the part of the job of that name
        pub struct Patch {
            $(pub $whole: Swap<$type>,)*
            $(pub $list: Listed<$item>,)*
            $(pub $part: Swap<$part_type>,)*
            $(pub $part_list: Listed<$part_item>,)*
        }

        impl Patch {
            /// What differs between two jobs.
            pub fn between(before: &JobFile, after: &JobFile) -> Patch {
                let JobFile { cavity: old_cavity, $($whole: _,)* $($list: _,)* } = before;
                let CavityFile { $($part: _,)* $($part_list: _,)* } = old_cavity;
                let new_cavity = &after.cavity;
                Patch {
                    $($whole: swap(&before.$whole, &after.$whole),)*
                    $($list: stretch(&before.$list, &after.$list),)*
                    $($part: swap(&old_cavity.$part, &new_cavity.$part),)*
                    $($part_list: stretch(&old_cavity.$part_list, &new_cavity.$part_list),)*
                }
            }

            /// Puts it on the job it was made from, or takes it off again.
            pub fn put(&self, job: &mut JobFile, way: Way) {
                $(put_swap(&self.$whole, &mut job.$whole, way);)*
                $(put_stretch(&self.$list, &mut job.$list, way);)*
                $(put_swap(&self.$part, &mut job.cavity.$part, way);)*
                $(put_stretch(&self.$part_list, &mut job.cavity.$part_list, way);)*
            }
        }
    };
}

patch! {
    job:
        format: u32,
        name: String,
        notes: String,
        proud_limit_mm: Option<f64>,
        enter_tilt_deg: Option<f64>,
        bend_rules: BendRules,
        unit: PartUse<UnitPart>,
        mount: PartUse<MountPart>,
        cutting: CuttingFile,
    ;
    lists:
        leads: LeadFile,
        looms: LoomFile,
        modules: ModuleFile,
        trims: TrimFile,
        rib_loads: RibLoadFile,
        alternatives: AlternativeFile,
    ;
    cavity:
        opening: OpeningFile,
        seat_plane: Option<profiles::Length>,
        finished_face: Option<profiles::Length>,
        face_rake: RakeFile,
        slide_dip_deg: f64,
        clear: Option<profiles::Length>,
        slide_gap: Option<profiles::Length>,
        closed: bool,
    ;
    cavity lists:
        stations: StationFile,
        obstacles: ObstacleFile,
        exits: ExitFile,
        spaces: SpaceFile,
        pockets: PocketFile,
        factory_plugs: FactoryPlugFile,
}

impl Patch {
    /// Whether nothing differs.
    pub fn is_empty(&self) -> bool {
        *self == Patch::default()
    }
}

fn swap<T: Clone + PartialEq>(before: &T, after: &T) -> Swap<T> {
    (before != after).then(|| Box::new([before.clone(), after.clone()]))
}

/// The stretch between what both lists begin and end with.
fn stretch<T: Clone + PartialEq>(before: &[T], after: &[T]) -> Listed<T> {
    let shorter = before.len().min(after.len());
    let at = (0..shorter).take_while(|&i| before[i] == after[i]).count();
    let tail = (0..shorter - at)
        .take_while(|&i| before[before.len() - 1 - i] == after[after.len() - 1 - i])
        .count();
    let (old, new) = (
        &before[at..before.len() - tail],
        &after[at..after.len() - tail],
    );
    (!old.is_empty() || !new.is_empty()).then(|| {
        Box::new(Stretch {
            at,
            before: old.to_vec(),
            after: new.to_vec(),
        })
    })
}

fn put_swap<T: Clone>(swap: &Swap<T>, place: &mut T, way: Way) {
    if let Some(pair) = swap {
        place.clone_from(match way {
            Way::On => &pair[1],
            Way::Back => &pair[0],
        });
    }
}

fn put_stretch<T: Clone>(listed: &Listed<T>, list: &mut Vec<T>, way: Way) {
    if let Some(stretch) = listed {
        let (old, new) = match way {
            Way::On => (&stretch.before, &stretch.after),
            Way::Back => (&stretch.after, &stretch.before),
        };
        // The job is the one it was made from, so the stretch lies within it.
        let end = (stretch.at + old.len()).min(list.len());
        list.splice(stretch.at.min(end)..end, new.iter().cloned());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> JobFile {
        let library = profiles::Library::embedded();
        profiles::open_job(profiles::DEMO, &library)
            .expect("the demo opens")
            .file
    }

    #[test]
    fn it_goes_on_and_comes_off_bit_for_bit() {
        let before = demo();
        let mut after = before.clone();
        after.name.push('!');
        after.leads.swap(1, 3);
        after.cavity.obstacles.remove(0);
        after.cavity.closed = !after.cavity.closed;
        after.modules.clear();
        let patch = Patch::between(&before, &after);
        let mut job = before.clone();
        patch.put(&mut job, Way::On);
        assert_eq!(job, after);
        patch.put(&mut job, Way::Back);
        assert_eq!(format!("{job:?}"), format!("{before:?}"));
    }

    #[test]
    fn it_keeps_the_stretch_that_differs_and_no_more() {
        let before = demo();
        let mut after = before.clone();
        after.cavity.obstacles[2].name = "another".to_owned();
        let patch = Patch::between(&before, &after);
        let stretch = patch.obstacles.as_ref().expect("it differs");
        assert_eq!(
            (stretch.at, stretch.before.len(), stretch.after.len()),
            (2, 1, 1)
        );
        assert!(patch.leads.is_none() && patch.unit.is_none());
        let other = before.cavity.obstacles[0].clone();
        after = before.clone();
        after.cavity.obstacles.push(other);
        let patch = Patch::between(&before, &after);
        let stretch = patch.obstacles.as_ref().expect("it differs");
        assert_eq!((stretch.before.len(), stretch.after.len()), (0, 1));
    }

    #[test]
    fn the_same_job_gives_an_empty_patch() {
        assert!(Patch::between(&demo(), &demo()).is_empty());
    }
}
