package shop

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path"

	"plumbline/cmd/plumbline/internal/exit"
)

// journals is the folder, in one of designs, that holds what was done to each. It is hidden, so that nothing in it is taken for a
// design, and one place for the folder, so that a shop's repository can leave it out by one line, which it does by itself.
const journals = ".plumbline"

// mostJournal is how long a journal may grow before a new one is begun; some hundred thousand answers.
const mostJournal = 64 << 20

// Journal is what was done to one design, a line for each thing.
type Journal struct {
	file *os.File
	// size is how long it is up to the last whole line.
	size int64
}

// ErrTaken says that another program works in the folder.
var ErrTaken = errors.New("another program works in the folder already; close it first")

// Keep makes the folder of the journals, and takes it for this program alone; others may read it. Without it, nothing is written.
func (f *Folder) Keep() error {
	if f.lock != nil {
		return nil
	}
	if info, err := f.root.Lstat(journals); err == nil && !info.IsDir() {
		return exit.InputError("%s is no folder; what is done to designs is kept there", path.Join(f.dir, journals))
	}
	if err := f.root.MkdirAll(journals, 0o755); err != nil {
		return exit.InputError("%s cannot be made, so nothing can be changed: %v", path.Join(f.dir, journals), Reason(err))
	}
	lock, err := f.root.OpenFile(path.Join(journals, "lock"), os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return exit.InputError("%s cannot be written: %v", path.Join(f.dir, journals), Reason(err))
	}
	if err := lockFile(lock); err != nil {
		_ = lock.Close()
		return fmt.Errorf("%s: %w", f.dir, ErrTaken)
	}
	f.lock = lock
	ignore, err := f.root.OpenFile(path.Join(journals, ".gitignore"), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err == nil {
		_, err = ignore.WriteString("*\n")
		err = errors.Join(err, ignore.Close())
	}
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return exit.InputError("%s cannot be written: %v", path.Join(f.dir, journals), Reason(err))
	}
	return nil
}

// ReadJournal reads what was done to a design, the lines in their order; nothing where there is no journal. A last line that was not
// written whole is left out.
func (f *Folder) ReadJournal(name string) ([][]byte, error) {
	data, _, err := f.journal(name)
	return data, err
}

func (f *Folder) journal(name string) (list [][]byte, size int64, err error) {
	if err := CheckName(name); err != nil {
		return nil, 0, err
	}
	at := journalOf(name)
	info, err := f.root.Lstat(at)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, nil
	}
	if err == nil {
		err = PlainFile(at, info)
	}
	if err != nil {
		return nil, 0, err
	}
	file, err := f.root.Open(at)
	if err != nil {
		return nil, 0, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, 2*mostJournal))
	if err != nil {
		return nil, 0, err
	}
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			break
		}
		text, ok := unsealed(data[:end])
		if !ok {
			if bytes.IndexByte(data[end+1:], '\n') >= 0 {
				return list, size, fmt.Errorf("%s is damaged", path.Join(f.dir, at))
			}
			break
		}
		list = append(list, text)
		size += int64(end) + 1
		data = data[end+1:]
	}
	return list, size, nil
}

func journalOf(name string) string { return path.Join(journals, name+".journal") }

// OpenJournal opens the journal of a design to write on. One that is damaged or too long is put aside, and a new one begun; begun tells
// that.
func (f *Folder) OpenJournal(name string) (j *Journal, begun bool, err error) {
	if err := f.Keep(); err != nil {
		return nil, false, err
	}
	at := journalOf(name)
	list, size, err := f.journal(name)
	if err != nil || size > mostJournal {
		if err := f.root.Rename(at, at+".old"); err != nil {
			return nil, false, exit.InputError("%s cannot be put aside: %v", path.Join(f.dir, at), Reason(err))
		}
		list, size = nil, 0
	}
	if err := f.root.MkdirAll(path.Dir(at), 0o755); err != nil {
		return nil, false, exit.InputError("%s cannot be written: %v", path.Join(f.dir, at), Reason(err))
	}
	file, err := f.root.OpenFile(at, os.O_WRONLY|os.O_CREATE, 0o644)
	if err != nil {
		return nil, false, exit.InputError("%s cannot be written: %v", path.Join(f.dir, at), Reason(err))
	}
	if err := file.Truncate(size); err != nil { // what was not written whole was never acknowledged
		_ = file.Close()
		return nil, false, exit.InputError("%s cannot be written: %v", path.Join(f.dir, at), Reason(err))
	}
	if len(list) == 0 {
		syncDir(f.root, path.Dir(at))
	}
	return &Journal{file: file, size: size}, len(list) == 0, nil
}

// Append writes a line, without a line's end in it. A sure one is there after a crash of the machine, too.
func (j *Journal) Append(text []byte, sure bool) error {
	line := sealed(text)
	_, err := j.file.WriteAt(line, j.size)
	if err == nil && sure {
		err = j.file.Sync()
	}
	if err != nil {
		return exit.InputError("%s cannot be written: %v", j.file.Name(), errors.Join(Reason(err), j.file.Truncate(j.size)))
	}
	j.size += int64(len(line))
	return nil
}

// Close closes it.
func (j *Journal) Close() error { return j.file.Close() }

// sealed is a line with a sum over it, so that one that was not written whole is known.
func sealed(text []byte) []byte {
	return fmt.Appendf(nil, "%08x %s\n", crc32.ChecksumIEEE(text), text)
}

func unsealed(line []byte) ([]byte, bool) {
	if len(line) < 9 || line[8] != ' ' {
		return nil, false
	}
	text := line[9:]
	return text, string(line[:8]) == fmt.Sprintf("%08x", crc32.ChecksumIEEE(text))
}
