import { test, expect } from "vitest";
import { loadModules } from "/work/main/addin/preview/host/node-modules";
import { Engine } from "/work/main/addin/preview/host/engine";
import { gridFunctions, ErrorMessages, CustomFunctionError } from "/work/main/addin/preview/host/functions";
test("engine", async () => {
  let t=performance.now();
  const m = loadModules(); console.log("modules", performance.now()-t); t=performance.now();
  const messages=new ErrorMessages();
  const fns=new Map<string,any>([["ECHO",(x:any)=>JSON.stringify(x)],["TWO",(x:any)=>x.map((r:any)=>r.map((c:any)=>typeof c==="number"?c*2:new CustomFunctionError("#VALUE!","not a number: "+JSON.stringify(c))))],["TABLE",(n:any)=>Array.from({length:n},(_,i)=>[i,"x"+i])]]);
  const P=(name:string,dimensionality="matrix",type="any",optional=false)=>({name,dimensionality,type,optional});
  const conf=gridFunctions(m,fns,{allowErrorForDataTypeAny:true,functions:[{id:"ECHO",parameters:[P("x")]},{id:"TWO",parameters:[P("x")]},{id:"TABLE",parameters:[P("n","scalar","number")]}]},{namespace:"GRIT",blankAs:null,messages});
  const u=new m.Univer({locale:m.LocaleType.EN_US,locales:{[m.LocaleType.EN_US]:{}}} as any);
  u.registerPlugin(m.UniverFormulaEnginePlugin,{function:conf.function} as any);u.registerPlugin(m.UniverSheetsPlugin);u.registerPlugin(m.UniverSheetsFormulaPlugin,{description:conf.description} as any);u.registerPlugin(m.UniverSheetsNumfmtPlugin);
  const e=new Engine(m,m.FUniver.newAPI(u),{messages}); console.log("boot", performance.now()-t);
  const s=e.active; const put=(a:[number,number],x:any)=>e.enter(s,a[0],a[1],x); const val=(r:number,c:number)=>e.value(s,r,c);
  put([0,0],"20%");put([1,0],"'12");put([2,0],"=A1*2");put([3,0],"=GRIT.ECHO(A1:B3)");put([4,0],"=GRIT.TWO(A1:A3)"); put([0,3],"=GRIT.TABLE(3)"); put([0,5],"=NA()"); put([1,5],"=GRIT.ECHO(F1)"); put([2,5],"=GRIT.ECHO(TRUE)"); put([3,5],"=GRIT.ECHO()"); put([4,5],'=GRIT.ECHO({1,2;"a",TRUE})');
  t=performance.now(); await e.settle(); console.log("settle", performance.now()-t);
  console.log([0,1,2,3,4,5,6].map(r=>val(r,0)), e.numberFormat(s,0,0), e.text(s,0,0), [0,1,2,3].map(r=>[val(r,3),val(r,4)]), [0,1,2,3,4].map(r=>val(r,5)), messages.get(s,5,0,"#VALUE!"), e.spillOf(s,0,3), e.spillParent(s,2,4));
  // tables & names
  e.book.addName("Floor_Area","=Sheet1!$A$1",undefined,""); put([10,0],"Name");put([10,1],"Life");put([11,0],"a");put([11,1],10);put([12,0],"b");put([12,1],20);
  const tb=e.book.addTable(s,{row:10,column:0,rows:3,columns:2},["Name","Life"]); e.book.renameTable(tb,"Tooling");
  put([15,0],"=SUM(Tooling[Life])*Floor_Area"); put([16,0],"=sum(tooling[life])"); put([17,0],"=COUNTA(Tooling[#Headers])"); put([11,5],"=Tooling[[#This Row],[Life]]+1"); put([12,5],"=Tooling[@Life]+1"); put([18,0],"=SUM(Tooling[Nope])");put([19,0],"=Local*2");
  await e.settle(); console.log([15,16,17,18,19].map(r=>val(r,0)), val(11,5), val(12,5));
  put([13,1],100); tb.rect={...tb.rect,rows:4}; e.book.tableChanged(tb); e.book.addName("Local","=21",s,"");
  await e.settle(); console.log([15,16,17,18,19].map(r=>val(r,0)), val(11,5), val(12,5));
  const s2=e.addSheet("Second"); e.enter(s2,0,0,"=Local*2"); await e.settle(); console.log("local on other", e.value(s2,0,0));
  e.book.addName("Local","=5",s2,""); await e.settle(); console.log("local on other", e.value(s2,0,0), val(19,0));
  // spill blocked
  put([1,3],"block"); await e.settle(); console.log("blocked",[0,1,2].map(r=>[val(r,3),val(r,4)]), e.spillOf(s,0,3)); put([1,3],""); await e.settle(); console.log("freed",[0,1,2].map(r=>[val(r,3),val(r,4)]));
  // shift
  e.shift(s,{area:{row:11,column:0,rows:1,columns:2},direction:"down"}); await e.settle(); console.log(tb.rect, val(16,0), e.formula(s,16,0), val(12,0), val(11,0), e.formula(s,15,0));
  e.shift(s,{area:{row:0,column:0,rows:2,columns:16384},direction:"down"}); await e.settle(); console.log(tb.rect, val(18,0), e.formula(s,18,0), e.book.names.map(n=>n.formula), val(2,0), e.formula(s,4,0), val(4,0));
  e.renameSheet(s,"My data"); await e.settle(); console.log(e.book.names.map(n=>n.formula), val(18,0));
  // perf
  t=performance.now(); for(let r=0;r<60;r++) for(let c=0;c<20;c++){ e.enter(s,r+100,c+10,c%2?r*c:`=A1+${r}`); e.setStyle(s,{row:r+100,column:c+10,rows:1,columns:1},{bl:1,bg:{rgb:"#FFFF00"}} as any);} await e.settle(); console.log("60x20", performance.now()-t);
  u.dispose();
},60000);
