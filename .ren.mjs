// node ren.mjs '{"Old":"New"}' '{"old/path.tsx":"new/path.tsx"}' [only-glob-regex] [exclude-regex]
import ts from 'typescript'; import {readFileSync,writeFileSync,readdirSync,existsSync} from 'node:fs'; import {execSync} from 'node:child_process'; import path from 'node:path';
const [map,moves,only='.',exclude='^$']=[JSON.parse(process.argv[2]),JSON.parse(process.argv[3]??'{}'),process.argv[4],process.argv[5]];
const walk=d=>readdirSync(d,{withFileTypes:true}).flatMap(e=>e.isDirectory()?walk(d+'/'+e.name):[d+'/'+e.name]);
const all=()=>['dashboard','tests/dashboard','tests/browser','tests/overview','tests/system'].flatMap(walk).filter(f=>/\.tsx?$/.test(f));
for(const f of all().filter(f=>new RegExp(only).test(f)&&!new RegExp(exclude).test(f))){
 const s=readFileSync(f,'utf8'); const sf=ts.createSourceFile(f,s,99,true,f.endsWith('x')?4:3); const edits=[];
 const isTest=f.startsWith('tests/');
 const v=n=>{ if(ts.isIdentifier(n)&&Object.hasOwn(map,n.text)){
   const p=n.parent;
   let to=map[n.text];
   // shorthand { a } from/into something else keeps working only if both sides are renamed: tsc tells
   edits.push([n.getStart(),n.end,to]);
 } ts.forEachChild(n,v)}; 
 const imports=new Set(); if(isTest){ // only names imported from dashboard
   sf.statements.filter(ts.isImportDeclaration).forEach(i=>{ if(i.moduleSpecifier.text.includes('dashboard/')) i.importClause?.namedBindings?.elements?.forEach(e=>imports.add(e.name.text));});
 }
 if(!isTest||[...imports].some(i=>Object.hasOwn(map,i))){ const m0={...map}; if(isTest){for(const k of Object.keys(map)) if(!imports.has(k)) delete map[k];} v(sf); if(isTest) Object.assign(map,m0);}
 let out=s; for(const [a,b,t] of edits.sort((x,y)=>y[0]-x[0])) out=out.slice(0,a)+t+out.slice(b);
 if(out!==s) writeFileSync(f,out);
}
for(const [from,to] of Object.entries(moves)){ execSync(`git mv ${from} ${to}`); }
if(Object.keys(moves).length) for(const f of all()){
 let s=readFileSync(f,'utf8'); const orig=s; 
 const back=Object.fromEntries(Object.entries(moves).map(([a,b])=>[b,a]));
 const here=path.dirname(back[f]??f), now=path.dirname(f);
 s=s.replace(/((?:from|import)\s*\(?\s*)'(\.[^']+)'/g,(w,pre,spec)=>{ const target=path.join(here,spec); const moved=moves[target]??target; let r=path.relative(now,moved); if(!r.startsWith('.')) r='./'+r; return (moved!==target||here!==now)?`${pre}'${r}'`:w;});
 if(s!==orig) writeFileSync(f,s);
}
