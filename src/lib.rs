pub mod quantity;
pub mod source;
