import fc from 'fast-check';

/**
 * The same random input at every run, so that a red test is the change's and not the draw's. `PROPERTY_SEED=7 npm run
 * test:unit` draws others; a counterexample that it finds belongs into a test of its own.
 */
fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 20_261_125) });
