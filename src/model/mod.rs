//! Tree to recipe: checked meaning.
