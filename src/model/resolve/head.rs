//! `[commission]` and `[parts]`.

use super::resolver::{Resolver, mapped};
use crate::model::{Commission, Parts};
use crate::spec::Spec;
use crate::spec::entry::value_of;
use crate::spec::tables::{CommissionTable, PartsTable};
use crate::spec::words::{Hand, Paper, PrintIn, Sequence};
use crate::units::{Duration, Share};

impl Resolver<'_> {
    pub(super) fn commission(&mut self, spec: &Spec) -> Commission {
        let empty = CommissionTable::empty(spec.header);
        let table = value_of(&spec.commission).unwrap_or(&empty);
        Commission {
            number: self.required("commission.number", &table.number),
            title: self.required("commission.title", &table.title),
            customer: self.optional("commission.customer", &table.customer),
            serial: self.optional("commission.serial", &table.serial),
            due: self.optional("commission.due", &table.due).map(|due| mapped(due, |date| date.to_string())),
            drawn_by: self.optional("commission.drawn_by", &table.drawn_by),
            hand: self.or_built_in("commission.hand", &table.hand, Hand::Right),
            sequence: self.or_built_in("commission.sequence", &table.sequence, Sequence::BoardFirst),
            print_in: self.or_built_in("commission.print_in", &table.print_in, PrintIn::Millimetre),
            paper: self.or_built_in("commission.paper", &table.paper, Paper::A4),
        }
    }

    pub(super) fn parts(&mut self, spec: &Spec) -> Parts {
        let empty = PartsTable::empty(spec.header);
        let table = value_of(&spec.parts).unwrap_or(&empty);
        Parts {
            board: self.or_built_in("parts.board", &table.board, 1),
            neck: match spec.neck {
                Some(_) => self.or_built_in("parts.neck", &table.neck, 1),
                None => self.or_unused("parts.neck", &table.neck, 1),
            },
            body: match spec.body {
                Some(_) => self.or_built_in("parts.body", &table.body, 1),
                None => self.or_unused("parts.body", &table.body, 1),
            },
        }
    }

    /// Money is never guessed: what a quote does not say is nothing.
    pub(super) fn quote(&mut self, spec: &Spec) {
        let Some(table) = value_of(&spec.quote) else { return };
        self.or_built_in("quote.hours", &table.hours, Duration::minutes(0.0));
        self.or_built_in("quote.margin", &table.margin, Share::parts(0.0));
        self.or_built_in("quote.deposit", &table.deposit, Share::parts(0.0));
        self.or_built_in("quote.tax", &table.tax, Share::parts(0.0));
        self.or_built_in("quote.discount", &table.discount, Share::parts(0.0));
    }
}
