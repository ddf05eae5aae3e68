package main

// startedAs has nothing to do where there are no pseudo-terminals to test in.
func startedAs() {}
