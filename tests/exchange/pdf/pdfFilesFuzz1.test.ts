import { fuzzFiles } from './fuzzFiles';

fuzzFiles(1);
