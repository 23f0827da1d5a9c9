import fc from 'fast-check';
import { it } from 'vitest';
import { workPiece } from '../src/operations/recipe';
import { pieceDrafts, rigidMoves } from './support/arbitraries';
import { fanSteps } from './support/fanSteps';
import { movedPiece } from './support/movedPiece';
import { trueSteps } from './support/trueSteps';
it('x',()=>{
 const jobs=pieceDrafts().chain((draft)=>fc.record({draft:fc.constant(draft),fanStep:fanSteps(draft),trueStep:trueSteps(draft.hemWidth),move:rigidMoves()}));
 const errs:any[]=[]; let t=0;
 for(const d of fc.sample(jobs,{numRuns:4000,seed:Number(process.env.SEED??21)})){ const t0=performance.now();
  const w=workPiece(d.draft.piece,[d.fanStep,d.trueStep]); t+=performance.now()-t0; const m=workPiece(movedPiece(d.draft.piece,d.move),[d.fanStep,d.trueStep]); if(!w.ok||!m.ok) {if(w.ok!==m.ok) console.log('MIS',w.ok||w.code,m.ok||m.code);continue;}
  const e=Math.abs(w.value.sweepAfter!-m.value.sweepAfter!); if(e>1e-5) console.log(e.toExponential(2),'spans',d.trueStep.hem.spans,'dev',w.value.trued!.hemDeviation.toFixed(3),m.value.trued!.hemDeviation.toFixed(3),'rms',w.value.trued!.hemRms.toFixed(4),m.value.trued!.hemRms.toFixed(4),JSON.stringify(w.value.trued!.handles),JSON.stringify(m.value.trued!.handles),JSON.stringify(d.trueStep.hem)); errs.push(e);}
 errs.sort((x,y)=>y-x); console.log(errs.length,'ms',t/4000,errs.slice(0,8));
},600000);
