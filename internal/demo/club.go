package demo

import "embed"

//go:embed club/*.toml
var club embed.FS

// Club is the box of the built-in challenges, a cupboard.toml.
func Club() []byte { return clubFile("kit") }

// Challenges are the names of the built-in challenges, the first the usual one.
func Challenges() []string {
	return []string{"steepest", "exact-time", "fastest", "slowest", "heaviest", "turns", "forgiving"}
}

// Challenge is a built-in challenge by its name, a brief.toml that can be met from
// Club; nil if there is none of that name.
func Challenge(name string) []byte {
	for _, known := range Challenges() {
		if known == name {
			return clubFile(name)
		}
	}
	return nil
}

func clubFile(name string) []byte {
	data, err := club.ReadFile("club/" + name + ".toml")
	if err != nil {
		panic(err) // it is part of the program
	}
	return data
}
