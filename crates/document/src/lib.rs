//! Question, answer, picture and table as data, and as an HTML page.
