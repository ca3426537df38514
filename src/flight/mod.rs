//! Ball flight, bounce and run, air and lie. Knows no course.
