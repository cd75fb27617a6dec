//! The edge to the disk: what is found and read, what may be written to, and what survives a kill.

mod find;
mod pictures;
mod read;
