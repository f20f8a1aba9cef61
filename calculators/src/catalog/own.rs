//! What a handbook brings to the catalog: its kits, and the job whose values its pages show; and
//! which of it holds where.

use serde::{Deserialize, Serialize};

use super::{Catalog, Job};
use crate::ground::Ground;
use crate::names::Names;

/// Before a job's name, where a day would stand, on what was measured there.
pub(super) const ON_JOB: &str = "on ";

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Own {
    /// Ratings by name, by kit.
    pub kits: Names<Names<Rated>>,
    /// The kit that serves where none is named; "" for none.
    pub kit: String,
    /// What the job is called whose values the handbook prints.
    pub job: String,
    /// That job's measurements, as typed.
    pub given: Names<String>,
    /// Its equipment is invented: nothing in it is for work.
    pub demonstration: bool,
}

/// A rating as its kit has it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Rated {
    pub text: String,
    /// The plate or sheet, and who read it when, in a few words.
    pub from: String,
}

/// A measurement as somebody took it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Taken {
    pub text: String,
    /// The day, `2026-11-26`, or in words; "" where nobody said.
    pub when: String,
    /// An entry that was refused since, and not settled.
    pub refused: String,
}

/// Whose values are asked for.
#[derive(Debug, Clone)]
pub enum Whose<'a> {
    /// A page of the handbook: nothing is measured, so its job's values stand as examples, and
    /// the page's own over them.
    Page { given: Names<String> },
    /// A job that the handbook prepares.
    Prepared {
        name: &'a str,
        kit: &'a str,
        given: Names<String>,
    },
    /// A job in hand: what hasn't been taken on it isn't known.
    InHand {
        name: &'a str,
        kit: &'a str,
        given: Names<Taken>,
    },
}

impl Catalog {
    /// The values that hold. This is the one place that says which stand over which, and on what
    /// ground.
    pub fn job_of(&self, whose: &Whose<'_>) -> Job {
        let mut job = Job::new();
        let kit = match whose {
            Whose::Prepared { kit, .. } | Whose::InHand { kit, .. } if !kit.is_empty() => kit,
            _ => self.own.kit.as_str(),
        };
        for (name, rated) in self.own.kits.get(kit).into_iter().flat_map(Names::iter) {
            job.set(name, &rated.text, Ground::Rated, &rated.from);
        }
        match whose {
            Whose::Page { given } => {
                job.shows_defaults = true;
                for (name, text) in self.own.given.iter() {
                    job.set(name, text, Ground::Example, &self.own.job);
                }
                for (name, text) in given.iter() {
                    job.set(name, text, Ground::Example, "");
                }
            }
            Whose::Prepared {
                name: of, given, ..
            } => {
                job.shows_defaults = true;
                for (name, text) in given.iter() {
                    job.set(name, text, Ground::Measured, &format!("{ON_JOB}{of}"));
                }
            }
            Whose::InHand {
                name: of, given, ..
            } => {
                for (name, taken) in given.iter() {
                    // copied from a prepared job, and not taken on this one
                    let whose = taken.when.strip_prefix(ON_JOB).filter(|whose| whose != of);
                    if let Some(whose) = whose.filter(|_| taken.refused.is_empty()) {
                        job.set(name, &taken.text, Ground::Example, whose);
                    } else if taken.refused.is_empty() {
                        job.set(name, &taken.text, Ground::Measured, &taken.when);
                    } else {
                        job.set(name, &taken.text, Ground::Doubted, &taken.refused);
                    }
                }
            }
        }
        job
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(pairs: &[(&str, &str)]) -> Names<String> {
        let pairs = pairs.iter();
        pairs
            .map(|(name, text)| ((*name).to_string(), (*text).to_string()))
            .collect()
    }

    fn catalog() -> Catalog {
        let rated = Rated {
            text: "3 in".into(),
            from: "plate".into(),
        };
        Catalog {
            own: Own {
                kits: Names::from([(
                    "yard".to_string(),
                    Names::from([("jaw_max".to_string(), rated)]),
                )]),
                kit: "yard".into(),
                job: "T1".into(),
                given: names(&[("channel_depth", "8 in"), ("tube_od", "1 in")]),
                demonstration: false,
            },
            ..Catalog::default()
        }
    }

    fn told(job: &Job) -> Vec<(String, String, Ground, String)> {
        let held = job.iter();
        held.map(|(name, held)| {
            (
                name.clone(),
                held.text.clone(),
                held.ground,
                held.from.clone(),
            )
        })
        .collect()
    }

    /// One measurement of a job in hand.
    fn depth(when: &str, refused: &str) -> Names<Taken> {
        let taken = Taken {
            text: "14 in".into(),
            when: when.into(),
            refused: refused.into(),
        };
        Names::from([("channel_depth".to_string(), taken)])
    }

    #[test]
    fn what_was_copied_from_a_prepared_job_is_that_jobs_until_it_is_taken_again() {
        let given = depth("on T1", "");
        for (name, ground) in [("T1", Ground::Measured), ("E-204", Ground::Example)] {
            let given = given.clone();
            let kit = "";
            let job = catalog().job_of(&Whose::InHand { name, kit, given });
            let depth = job.get("channel_depth").expect("it is given");
            assert_eq!(depth.ground, ground, "{name}");
        }
    }

    #[test]
    fn a_job_in_hand_never_falls_back_on_an_example() {
        let given = depth("2026-11-26", "");
        let job = catalog().job_of(&Whose::InHand {
            name: "E-204",
            kit: "",
            given,
        });
        let depth = (
            "channel_depth".into(),
            "14 in".into(),
            Ground::Measured,
            "2026-11-26".into(),
        );
        let jaw = (
            "jaw_max".into(),
            "3 in".into(),
            Ground::Rated,
            "plate".into(),
        );
        assert_eq!(told(&job), [depth, jaw]);
    }

    #[test]
    fn a_page_shows_the_handbooks_job_as_an_example() {
        let given = names(&[("tube_od", "2 in")]);
        let job = catalog().job_of(&Whose::Page { given });
        let grounds: Vec<_> = told(&job)
            .into_iter()
            .map(|(name, _, ground, from)| (name, ground, from))
            .collect();
        assert_eq!(
            grounds,
            [
                ("channel_depth".into(), Ground::Example, "T1".into()),
                ("jaw_max".into(), Ground::Rated, "plate".into()),
                ("tube_od".into(), Ground::Example, String::new()),
            ]
        );
    }

    #[test]
    fn a_refused_entry_leaves_the_last_good_value_in_doubt() {
        let given = depth("", "140 in");
        let job = catalog().job_of(&Whose::InHand {
            name: "E-204",
            kit: "none",
            given,
        });
        let told = told(&job);
        assert_eq!(told[0].2, Ground::Doubted);
        assert_eq!(told[0].3, "140 in");
        assert_eq!(told.len(), 1, "there is no kit of this name");
    }
}
