//! `compare`: what differs in the bread, told by hand-worked pairs, the same backwards, from files and from git.

mod cases;
mod driver;
mod git;
mod no_git;
mod odd_trees;
mod pages;
mod pairs;
mod strangers;
mod symmetry;
