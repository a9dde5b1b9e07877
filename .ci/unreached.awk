# Compares the names kept on purpose (first file) with those no program reaches (second file).
# mode=new prints what is not kept, mode=gone what is kept without need.
NR == FNR { kept[$1] = 0; next }
{
	found = 0
	for (name in kept)
		if (name == $1 || (name ~ /\.$/ && index($1, name) == 1)) { kept[name]++; found = 1 }
	if (!found && mode == "new") print $1
}
END { if (mode == "gone") for (name in kept) if (!kept[name]) print name }
