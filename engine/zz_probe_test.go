package engine_test
import ("testing";"fmt";"encoding/json";"plumbline/engine";"plumbline/schema";"plumbline/schema/quantity")
func TestZZProbe(t *testing.T){ lib:=library(t)
 for _,name:=range []string{"demo/six-return.yaml","demo/v8-in-tank.yaml","demo/four-faulty.yaml","demo/counter-half-known.yaml"} {
 d,err:=schema.Load(name,designText(t,name)); if err!=nil {t.Fatal(err)}
 for _,p:=range lib.Packs(){ for _,r:=range p.Rules { as,err:=lib.Account(d,engine.Options{Units:quantity.Both},p.Pack+"."+r.ID); if err!=nil {t.Error(err)}
  for _,a:=range as { for i,x:=range a.Asked { last:= i==len(a.Asked)-1; _=last; if x.Value=="" {t.Error(r.ID,x)}; if a.Finding.Outcome==engine.Pass && (x.Of=="must"||x.Of=="applies"||x.Of=="should") && x.Value!="true" {t.Error(r.ID,x)} ; if a.Finding.Outcome==engine.Fail && last && x.Value!="false" {t.Error(r.ID,a.Finding.Outcome,x)}
  }
  if r.ID=="two-springs" || r.ID=="flow-at-full-load"&& name=="demo/six-return.yaml" || r.ID=="injection-grade"&& name=="demo/four-faulty.yaml"&&a.Finding.Outcome==engine.Fail { b,_:=json.MarshalIndent(a.Asked,""," "); fmt.Println(r.ID,string(b)) } }
 } } } }
