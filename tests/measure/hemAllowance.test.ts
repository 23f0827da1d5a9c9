import { describe, expect, it } from 'vitest';
import { hemAdvice } from '../../src/measure/hemAdvice';
import { hemAllowance } from '../../src/measure/hemAllowance';
import { openCuts } from '../../src/operations/linkage/spread';
import { trueFanned } from '../../src/operations/true';
import { granted } from '../support/outcomes';
import { loadTruedCase } from '../support/truedCase';

/** A circular hem of radius r turning by `turning`. */
function circular(radius: number, turning: number) {
  return { sweep: radius * turning, hemTurning: turning, hemCurvatureMax: 1 / radius };
}

describe('turning up a curved hem', () => {
  it('a full circle hem 1 deep: from fold to raw edge 2 pi longer (arithmetic of circles)', () => {
    const { cutEdge, garmentAtDepth } = hemAllowance(circular(100, 2 * Math.PI), 1);
    expect(cutEdge).toBeCloseTo(2 * Math.PI * 101, 9);
    expect(garmentAtDepth).toBeCloseTo(2 * Math.PI * 99, 9);
  });

  it('on a circle the worst ease is the excess over the place it is sewn to', () => {
    const { excess, garmentAtDepth, worstEase } = hemAllowance(circular(300, Math.PI / 2), 20);
    expect(worstEase).toBeCloseTo(excess / garmentAtDepth, 12);
  });

  it('the deepest narrow hem is eased by exactly 6 %', () => {
    const hem = circular(400, 1);
    const { deepestNarrow } = hemAllowance(hem, 10);
    expect(hemAllowance(hem, deepestNarrow).worstEase).toBeCloseTo(0.06, 12);
  });

  it('advises plain up to 2 %, narrow up to 6 %, faced beyond', () => {
    const hem = circular(1000, 1);
    const depthFor = (ease: number) => (1000 * ease) / (2 + ease);
    expect(hemAllowance(hem, depthFor(0.0199)).advice).toBe('plain');
    expect(hemAllowance(hem, depthFor(0.0201)).advice).toBe('narrow');
    expect(hemAllowance(hem, depthFor(0.0599)).advice).toBe('narrow');
    expect(hemAllowance(hem, depthFor(0.0601)).advice).toBe('faced');
  });

  it('a hem that bends inward needs no easing, and one deeper than its radius cannot be turned up', () => {
    const inward = hemAllowance({ sweep: 400, hemTurning: -0.2, hemCurvatureMax: -1 / 900 }, 30);
    expect(inward.advice).toBe('plain');
    expect(inward.deepestNarrow).toBe(Number.POSITIVE_INFINITY);
    const swallowed = hemAllowance(circular(50, 1), 50);
    expect(swallowed.worstEase).toBe(Number.POSITIVE_INFINITY);
    expect(swallowed.advice).toBe('faced');
  });

  it('advises facing the bodice front at 30 mm and a narrow hem at 10 mm', () => {
    const { piece, plan, fanStep, trueStep } = loadTruedCase('O03');
    const { report } = granted(trueFanned(granted(openCuts(piece, plan)), trueStep, fanStep));
    expect(hemAllowance(report, 30).advice).toBe('faced');
    expect(hemAllowance(report, 10).advice).toBe('narrow');
    expect(hemAdvice(report, 30)).toContain('face it');
    expect(hemAdvice(report, 10)).toContain('sew it narrow');
    expect(hemAdvice(report, 4)).toBeNull();
    expect(hemAdvice(report, 0)).toBeNull();
  });
});
