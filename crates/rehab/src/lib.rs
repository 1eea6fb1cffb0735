//! All clinical thinking of Hearthpace.
