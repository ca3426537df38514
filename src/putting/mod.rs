//! Roll on a slope, capture and read. Knows no course.
