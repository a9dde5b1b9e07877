package pack

import "slices"

// Danger is what is at stake when a rule is not met.
type Danger string

// The dangers, the worst first.
const (
	Fire          Danger = "fire"
	Poisoning     Danger = "poisoning"
	LossOfControl Danger = "loss_of_control"
	Shock         Danger = "shock"
	Burn          Danger = "burn"
	EngineDamage  Danger = "engine"
	NoDanger      Danger = "none"
)

// Dangers lists them, the worst first.
func Dangers() []Danger {
	return []Danger{Fire, Poisoning, LossOfControl, Shock, Burn, EngineDamage, NoDanger}
}

// Rank orders dangers, the worst 0; an unknown word comes before all.
func (d Danger) Rank() int { return slices.Index(Dangers(), d) }

// Grave reports whether no permission covers it: a rule against a grave danger is never
// loosened, conceded or met by what a local pack assumes, and an old finding keeps blocking.
func (d Danger) Grave() bool { return d == Fire || d == Poisoning || d == LossOfControl }

// Hurts reports whether it is a danger to people, which is said first.
func (d Danger) Hurts() bool { return d.Rank() <= Burn.Rank() && d.Rank() >= 0 }

// GraveWords name the dangers that are Grave.
const GraveWords = "fire, poisoning or loss of control"

// Words say the danger within a sentence; empty when there is none.
func (d Danger) Words() string {
	switch d {
	case Fire, Poisoning:
		return string(d)
	case LossOfControl:
		return "loss of control"
	case Shock:
		return "electric shock"
	case Burn:
		return "burns"
	case EngineDamage:
		return "damage to the engine"
	}
	return ""
}
