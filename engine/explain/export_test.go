package explain

import "plumbline/engine/derive"

// PartOf is the part of the design that a result belongs to, for tests.
func (k *Workings) PartOf(r *derive.Result) any { return k.partOf(r) }
