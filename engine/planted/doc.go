// Package planted plants single mistakes in builds that have none, and sees
// which rules speak up.
//
// A mistake is one line of a list: the build, the facts it changes, and the one
// complaint that must follow. A Field judges builds by a library and plants
// mistakes in them:
//
//	mistakes, err := planted.Read(text)
//	field := planted.New(lib, os.DirFS("designs"))
//	result, err := field.Plant(mistakes[0])
//
// Result says of what it found whether the number was near its limit and whether
// the mistake lies across two systems of the vehicle (Systems), and a Tally counts.
// Within is the other side: a change that ends just within a limit draws nothing.
//
// A mistake in the build is planted in it as it was before the first start:
// what was later entered in the controller and measured belongs to the vehicle
// without the mistake. The package serves the tests and the figures in README.
package planted
