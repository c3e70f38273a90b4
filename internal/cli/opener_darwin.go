package cli

// opener is the program that opens addresses.
func opener() (string, []string) { return "open", nil }
