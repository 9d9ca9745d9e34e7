package export_test
import ("testing";"os";"path/filepath";"foredge/export/exporttest";"foredge/lang/foretest";"fmt";"image")
func TestZZ(t *testing.T){
 foretest.Program(t,"rsvg-convert")
 files,_:=filepath.Glob(os.Getenv("ZZ"))
 fontsFor(t)
 for _,f:=range files{
  data,_:=os.ReadFile(f)
  p,err:=savedOptions().Parse(filepath.Base(f),data)
  if err!=nil{fmt.Printf("%-28s REFUSED %v\n",filepath.Base(f),err);continue}
  if p.Size.X==0||p.Bounds().Empty(){fmt.Printf("%-28s size %v empty %v\n",filepath.Base(f),p.Size,p.Bounds().Empty());continue}
  func(){
   defer func(){if r:=recover();r!=nil{fmt.Println(f,"PANIC",r)}}()
   dir:=t.TempDir()
   ours:=foretest.Write(t,filepath.Join(dir,"o.svg"),inBlack(p))
   w,h:=int(p.Size.X*8),int(p.Size.Y*8)
   want,got:=halved(exporttest.Plain(t,f,w,h)),halved(exporttest.Plain(t,ours,w,h))
   off,ink:=offEdges(want,got)
   _=image.Point{}
   if len(off)>0{fmt.Printf("%-28s OFF %d of %d first %v notes %v\n",filepath.Base(f),len(off),ink,first(off),p.Notes)} else if len(p.Notes)>0 {fmt.Printf("%-28s ok notes %v\n",filepath.Base(f),p.Notes)}
  }()
 }
}
