// Nothing of its own: carries the header that all test programs share, compiled once.
