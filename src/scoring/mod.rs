//! One card: gross, net, points, match state; one format a file.
