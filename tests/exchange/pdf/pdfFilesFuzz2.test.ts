import { fuzzFiles } from './fuzzFiles';

fuzzFiles(2);
