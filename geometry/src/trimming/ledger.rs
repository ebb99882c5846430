//! The accounts of one job's ribs, cut one way after another.

use super::account::{Account, RibBook};
use super::rules::carried_out;
use crate::job::{Job, Trim};

/// A job whose ribs are asked about many cuts: each rib whole is meshed and
/// factored once, and notches that were asked about before are looked up.
pub struct Ledger<'a> {
    job: &'a Job,
    /// The ribs asked about so far; `None` where nothing can be said.
    books: Vec<(String, Option<RibBook<'a>>)>,
    known: Vec<(Vec<Trim>, Option<Account>)>,
}

/// More accounts than this are not kept.
const KEPT: usize = 64;

impl<'a> Ledger<'a> {
    /// Nothing asked yet.
    ///
    /// * `job`: its own notches do not matter
    pub fn new(job: &'a Job) -> Ledger<'a> {
        Ledger {
            job,
            books: Vec::new(),
            known: Vec::new(),
        }
    }

    /// What notches come to, rib by rib in the order of the obstacles: the same
    /// as [`accounts`](super::accounts) of the job with these notches.
    pub fn accounts(&mut self, trims: &[Trim]) -> Vec<Account> {
        let job = Job {
            trims: trims.to_vec(),
            ..self.job.clone()
        };
        let cut = carried_out(&job);
        let mut accounts = Vec::new();
        for obstacle in &self.job.cavity.obstacles {
            let own = cut.iter().filter(|trim| trim.rib == obstacle.id);
            let own: Vec<Trim> = own.map(|trim| (*trim).clone()).collect();
            if !own.is_empty() {
                accounts.extend(self.account(&obstacle.id, own));
            }
        }
        accounts
    }

    /// The account of one rib.
    fn account(&mut self, rib: &str, trims: Vec<Trim>) -> Option<Account> {
        if let Some((_, account)) = self.known.iter().find(|(known, _)| *known == trims) {
            return account.clone();
        }
        let account = self.book(rib).and_then(|book| {
            let trims: Vec<&Trim> = trims.iter().collect();
            book.account(&trims).ok()
        });
        if self.known.len() == KEPT {
            self.known.remove(0);
        }
        self.known.push((trims, account.clone()));
        account
    }

    fn book(&mut self, rib: &str) -> Option<&RibBook<'a>> {
        let known = self.books.iter().position(|(id, _)| id == rib);
        let at = known.unwrap_or_else(|| {
            let book = RibBook::new(self.job, rib).ok();
            self.books.push((rib.to_owned(), book));
            self.books.len() - 1
        });
        self.books[at].1.as_ref()
    }
}
