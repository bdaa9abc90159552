"""Pure engineering, a module a subject: usable alone as a library."""
