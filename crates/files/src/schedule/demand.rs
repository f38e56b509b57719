//! What the press draws, from orders, stops and hours of work to stretches without gap or overlap.

use super::times::{Span, Times};
use crate::bag::{Bag, Entry};
use crate::clock;
use crate::job_file::demand_of;
use job::{Demand, Stretch, StretchKind};
use quantity::{FaultKind, Faults, MassFlow};

/// What is drawn from a moment on where no order says otherwise: that of the job in the hopper.
#[derive(Clone, Debug)]
pub(super) struct Usual {
    pub(super) from: f64,
    pub(super) demand: Demand,
    pub(super) name: String,
}

/// An order or a stop with its name.
#[derive(Clone, Debug)]
struct Stated<T> {
    span: Span,
    name: String,
    says: T,
}

/// An order of a plan.
#[derive(Clone, Debug)]
pub(super) struct Planned {
    pub(super) span: Span,
    pub(super) name: String,
    /// What is drawn; that of the job in the hopper when none.
    pub(super) demand: Option<Demand>,
}

/// What the press makes and when it stands, as it is stated.
#[derive(Clone, Debug)]
pub(super) struct Stretches {
    work: Vec<Span>,
    orders: Vec<Stated<Option<Demand>>>,
    stops: Vec<Stated<StretchKind>>,
}

impl Stretches {
    /// Orders and stops within the hours of work.
    ///
    /// # Errors
    /// Times that cannot be, orders or stops that overlap each other, and those that lie wholly outside the hours
    /// of work.
    pub(super) fn of(bag: &Bag, times: &Times, work: Vec<Span>) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let mut count = 0;
        let orders = stated(bag, "order", times, &mut faults, |table| {
            count += 1;
            let name = table.get("name", Entry::text);
            let name = name.unwrap_or_else(|| format!("order {count}"));
            Ok((name, demand_of(table)?))
        });
        let stops = stated(bag, "stop", times, &mut faults, |table| {
            let kind = match table.get("planned", Entry::flag) {
                Some(false) => StretchKind::Stop,
                _ => StretchKind::PlannedStop,
            };
            let name = table.get("why", Entry::text);
            Ok((name.unwrap_or_else(|| "stop".to_owned()), kind))
        });
        if times.length.is_some() {
            idle(&orders, &work, &mut faults);
            idle(&stops, &work, &mut faults);
        }
        faults.or(Self {
            work,
            orders: orders.into_iter().map(|(_, order)| order).collect(),
            stops: stops.into_iter().map(|(_, stop)| stop).collect(),
        })
    }

    /// With the orders of a plan.
    pub(super) fn planned(self, orders: Vec<Planned>) -> Self {
        let of = |order: Planned| Stated {
            span: order.span,
            name: order.name,
            says: order.demand,
        };
        Self {
            orders: orders.into_iter().map(of).collect(),
            ..self
        }
    }

    /// The hours of work without the stops that are planned.
    pub(super) fn open(&self) -> Vec<Span> {
        let planned = |stop: &&Stated<StretchKind>| stop.says == StretchKind::PlannedStop;
        let mut open = self.work.clone();
        for stop in self.stops.iter().filter(planned).map(|stop| stop.span) {
            let before = |span: &Span| Span {
                to: span.to.min(stop.from),
                ..*span
            };
            let after = |span: &Span| Span {
                from: span.from.max(stop.to),
                ..*span
            };
            open = open
                .iter()
                .flat_map(|span| [before(span), after(span)])
                .filter(|span| span.to > span.from)
                .collect();
        }
        open
    }

    /// The hours of work.
    pub(super) fn work(&self) -> &[Span] {
        &self.work
    }

    /// The stretches of a schedule of this length.
    ///
    /// # Errors
    /// A press that never runs.
    pub(super) fn resolved(
        &self,
        bag: &Bag,
        usual: &[Usual],
        length: f64,
    ) -> Result<Vec<Stretch>, Faults> {
        let mut edges = vec![0.0, length];
        let spans = self.work.iter().copied();
        let spans = spans.chain(self.orders.iter().map(|order| order.span));
        let spans = spans.chain(self.stops.iter().map(|stop| stop.span));
        edges.extend(spans.flat_map(|span| [span.from, span.to]));
        edges.extend(usual.iter().map(|usual| usual.from));
        edges.retain(|at| (0.0..=length).contains(at));
        edges.sort_by(f64::total_cmp);
        edges.dedup();
        let mut all: Vec<Stretch> = Vec::new();
        for pair in edges.windows(2) {
            let next = self.during(
                Span {
                    from: pair[0],
                    to: pair[1],
                },
                usual,
            );
            match all.last_mut() {
                Some(last) if same(last, &next) => last.to = next.to,
                _ => all.push(next),
            }
        }
        if all.iter().any(|stretch| stretch.kind == StretchKind::Runs) {
            return Ok(all);
        }
        let cause = "the press never runs in these days";
        let mend = "look at the hours of work, the orders and the stops, or take longer days";
        Err(bag.fault("to", FaultKind::Inconsistent, cause, mend).into())
    }

    /// What the press does in a span in which nothing changes.
    fn during(&self, span: Span, usual: &[Usual]) -> Stretch {
        let at = 0.5 * (span.from + span.to);
        let stands = |kind: StretchKind, name: &str| Stretch {
            from: span.from,
            to: span.to,
            rate: MassFlow::from_kg_per_s(0.0),
            shot: None,
            kind,
            name: name.to_owned(),
        };
        if !self.work.iter().any(|work| work.holds(at)) {
            return stands(StretchKind::Closed, "closed");
        }
        if let Some(stop) = self.stops.iter().find(|stop| stop.span.holds(at)) {
            return stands(stop.says, &stop.name);
        }
        let order = self.orders.iter().find(|order| order.span.holds(at));
        if order.is_none() && !self.orders.is_empty() {
            return stands(StretchKind::PlannedStop, "no order");
        }
        let Some(usual) = usual.iter().rev().find(|usual| usual.from <= at) else {
            return stands(StretchKind::PlannedStop, "no order");
        };
        let stated = order.and_then(|order| order.says.as_ref());
        let demand = stated.unwrap_or(&usual.demand);
        Stretch {
            rate: demand.peak(),
            shot: demand.shot(),
            ..stands(
                StretchKind::Runs,
                order.map_or(usual.name.as_str(), |order| order.name.as_str()),
            )
        }
    }
}

/// Whether two stretches, one after the other, are one.
fn same(a: &Stretch, b: &Stretch) -> bool {
    (a.kind, &a.name, a.rate, a.shot) == (b.kind, &b.name, b.rate, b.shot)
}

/// The tables of a kind that last from one time to another, each with what it says; what is wrong with them is told.
fn stated<T>(
    bag: &Bag,
    kind: &str,
    times: &Times,
    faults: &mut Faults,
    mut says: impl FnMut(&Bag) -> Result<(String, T), Faults>,
) -> Vec<(Bag, Stated<T>)> {
    let mut found: Vec<(Bag, Stated<T>)> = Vec::new();
    for table in bag.get(kind, Entry::tables).unwrap_or_default() {
        match (times.span(&table), says(&table)) {
            (Ok(span), Ok((name, says))) => {
                let mut others = found.iter().map(|(_, other)| other);
                if let Some(other) = others.find(|other| other.span.meets(span)) {
                    let show = |at: f64| clock::local(&times.clock, at);
                    faults.push(table.fault(
                        "from",
                        FaultKind::Inconsistent,
                        format!(
                            "it overlaps {:?}, which lasts from {} to {}",
                            other.name,
                            show(other.span.from),
                            show(other.span.to)
                        ),
                        "have one end before the other begins",
                    ));
                }
                found.push((table, Stated { span, name, says }));
            }
            (span, says) => {
                faults.extend(span.err().unwrap_or_default());
                faults.extend(says.err().unwrap_or_default());
            }
        }
    }
    found
}

/// What lies wholly outside the hours of work.
fn idle<T>(all: &[(Bag, Stated<T>)], work: &[Span], faults: &mut Faults) {
    for (table, stated) in all {
        if !work.iter().any(|work| work.meets(stated.span)) {
            faults.push(table.fault(
                "from",
                FaultKind::Inconsistent,
                format!("{:?} lies wholly outside the hours of work", stated.name),
                "move it into them, or add [[hours]]",
            ));
        }
    }
}
