package diagnose

import ("testing";"os";"path";"io/fs";"plumbline/schema";"plumbline/engine";"plumbline/testdata/shipped")
func TestZZ(t *testing.T){
 lib:=shipped.Library(t)
 files:=os.DirFS("../../designs")
 for _,n:=range []string{"antique-v8-texas","four-california-truck","hatchback-four-1988","rear-flat-four"} {
  open := func(other string) ([]byte, error) { return fs.ReadFile(files, path.Join("good", other)) }
  text,_:=open(n+".yaml"); text,_=schema.Whole(n+".yaml",text,open); d,err:=schema.Load(n,text); if err!=nil {t.Fatal(err)}
  _ = d.Put("design.measured.barometer", d.Measured.Barometer.Any())
  v,sk:=newVehicle(lib,d,engine.Options{})
  t.Log(n, len(v.troubles), sk)
  _,rs:=lib.Befalling(d,engine.Options{})
  for _,r:=range rs { x:=v.session.Named(r.Expects); t.Log("  ",r.Fact, x.Value(), x.Missing, x.Absent, x.Reason) }
 }
}
