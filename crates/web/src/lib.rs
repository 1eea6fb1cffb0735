//! Pages, routes and sign-in.
