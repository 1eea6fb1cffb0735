//! Tests that cross crates: published values, outside references, journeys and browser.
