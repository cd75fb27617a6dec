//! The edge to the disk: what is found and read, what may be written to, and what survives a kill.

mod calls;
mod find;
mod output;
mod pictures;
mod read;
mod rigs;
