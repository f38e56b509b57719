//! Whole runs, from a job file to an answer.

#[cfg(test)]
mod lots;
#[cfg(test)]
mod over_bed_and_map;
#[cfg(test)]
mod plans;
#[cfg(test)]
mod practice;
#[cfg(test)]
mod set_points;
#[cfg(test)]
mod way;
