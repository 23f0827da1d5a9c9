/**
 * Every numerical tolerance of the program, named by what it measures and in which unit, with its reason.
 * Doubles carry about 1e-13 mm at garment size (1000 mm), so 1e-9 mm leaves four digits for chained operations.
 */

// --- lengths, mm ---

/** mm. Default accuracy of an arc length: a millionth of a micrometre, well above rounding, far below cloth. */
export const lengthAccuracy = 1e-9;

/** mm. Two curves, or a line and a curve, this close touch; rounding of moved coordinates stays 1000 times below. */
export const touchDistance = 1e-9;

/** mm. Points this close are one point: a hit this near to the end of a segment is that end. */
export const samePoint = 1e-7;

/** mm. Where two curves run side by side (nearly the same tangent), crossings nearer than this count as one touch. */
export const touchResolution = 1e-3;

/** mm. Two meetings this near on curves that stay within `touchDistance` in between are one meeting. */
export const touchMerge = 1e-2;

/** mm. Next to a joint of a path, meetings of its two segments this near to the joint are the joint itself. */
export const jointClearance = 1e-4;

/** mm. A drawn cut, or its hinge, must come this near to the border or line it is said to lie on; a hair's tenth. */
export const cutEndReach = 1e-3;

/** mm. Default deviation of a fitted offset curve: a hundredth of the finest pen line. */
export const offsetAccuracy = 1e-3;

/** mm. Default distance between a curve and the chords that stand for it on screen and in sweeps. */
export const flattenAccuracy = 0.05;

/** mm. A dart leg or notch this far off its edge, or past its end, is still on it; a hundredth of the finest pen line. */
export const markOnEdge = 1e-3;

/** mm. How closely a cut line follows the exact normal offset: a fiftieth of a hairline, kept coarse because it is live. */
export const allowanceAccuracy = 2e-3;

/** mm. Chords of the allowance polygons that are united when a plain cut line crosses itself; a tenth of a hairline. */
export const allowanceChord = 0.01;

/** mm. Chords on which a cut line is checked for crossing itself; a crossing shallower than a hairline does no harm. */
export const cutLineCheckChord = 0.05;

/** mm. Grid of whole numbers on which allowance polygons are united: a tenth of a micrometre. */
export const unionGrid = 1e-4;

/** mm. Half the width of the gaps that are closed between united allowance polygons; twice `allowanceChord`. */
export const sliverWidth = 0.02;

/** mm. An edge whose moved line lies everywhere deeper than this inside the cut line has been swallowed. */
export const swallowedDepth = 0.1;

/** mm. Where an allowance is wider than a curve's radius at its end, the barb left on the cut line is trimmed up to this length. */
export const barbTrimmed = 0.3;

/** mm. Widest allowance taken: half a metre is a grown-on facing, more is a slip of the unit. */
export const widestAllowance = 500;

// --- areas, mm2 ---

/** mm2. A gap between allowances smaller than this closes without a word; it could not be cut out with scissors. */
export const closedGapIgnored = 1;

/** mm2. A strip with less cloth than this has no width: a thread laid along a metre of slash has ten times more. */
export const thinnestPanel = 1e-3;

// --- angles, radians ---

/** radians. A side that leans more than this from square to the hem is not mirrored at the hem fold: the end would run away. */
export const hemMirrorLeanLimit = Math.PI / 3;

/** radians. A stretch that turns less than this is straight; keeps rounding from counting as an inflection. */
export const straightTurn = 1e-9;

/** radians. Tangents at a joint that differ by less are one direction (no corner). */
export const smoothJoint = 1e-6;

// --- ratios and counts ---

/** Ratio. How far a mitred corner may reach beyond the path, in multiples of the offset; sharper corners are bevelled. */
export const offsetMitreLimit = 6;

/** Ratio. How far the tip of an allowance corner may lie from the corner, in multiples of the wider allowance; then squared off. */
export const allowanceTipLimit = 3;

/** Ratio. Rounding of a cubic's speed against the sum of its control vectors: about eight roundings of 1.1e-16. */
export const speedRounding = 1e-15;

/** Count. Halvings allowed in adaptive integration; 2^-50 of a parameter is at the edge of a double. */
export const maxHalvings = 50;

/** Count. Pairs of curve parts examined before a search for meetings gives up on near-coincident curves. */
export const maxPairTests = 40_000;

// --- trueing ---

/** Parameter of a span. A foot on the hem curve is found when a Newton step is this small; its error is the square. */
export const footStep = 1e-10;

/** mm. Hem curves that all lie this near to the strips (root mean square) are one line to the eye and the scissors. */
export const pencilLine = 0.3;

// --- bringing in ---

/** Ratio. Both axes of a file must state the same scale to within this; a view box in whole units on A4 differs by up to 0.0007. */
export const axesAgree = 0.001;

/** Ratio. A second known length may differ by this; more means something is wrong with the file, its scale or the measuring. */
export const secondLengthError = 0.005;

/** Ratio of a shape's extent. Ends this near were meant to meet; a place written with six digits cannot say it better. */
export const endsMeet = 1e-6;

/** mm. Ends of loose lines this near are joined unless the maker says otherwise: a pencil line's width. */
export const joinGap = 0.5;

/** mm. Wider joined gaps are bridged by a straight line instead of moving both ends together. */
export const movedGap = 0.5;

/** mm. Segments shorter than this are slips of the drawing program and would only confuse directions. */
export const tinySegment = 0.02;

/** mm. Whole lines shorter than this are specks. */
export const speckLength = 0.5;

/** mm. Lines that lie this near to each other from end to end are one line drawn twice. */
export const sameLine = 0.01;

/** mm. Smooth curves fitted to a traced outline stay this near to every traced point. */
export const traceDeviation = 0.1;

/** radians. A turn of the outline by more than this within a few mm is offered as a corner: 20 degrees. */
export const proposedCornerTurn = Math.PI / 9;

/** mm. Edges that leave the straight by no more than this may be drawn straight where the fold needs it. */
export const straightEnough = 0.5;

/** Ratio of rise to run. Lines of a test square or a page frame that lean less are level or upright: a tenth of a degree. */
export const squareLean = 0.002;

/** mm. Two copies of a shape on two pages of a PDF agree this closely: some programs write places to a twentieth of a mm. */
export const sameShape = 0.05;

/** mm. A line cut off at a page's border ends this near to it. */
export const cutAtBorder = 0.1;

/** mm. The ends of one line on two pages meet this closely when the pages are laid right. */
export const borderMatch = 0.3;

/** radians. A line that goes on across a page's border keeps its direction this closely; curves cut in the middle too. */
export const goesOnStraight = 0.08;

/** mm. Two sides of one piece this far apart are worth a word before they are folded: 1/8 in, which works for many (Threads no. 200). */
export const sidesApartWarn = 3.2;

/** mm, and a share of the root of the area for small pieces. Sides farther apart are not the same twice. Ours; common practice, no source. */
export const sidesApartMost = 10;
export const sidesApartShare = 0.03;

/** radians. Neck and hem this near to square at a fold drawn from two sides are drawn square to it: 1 degree. Ours. */
export const foldSquareWithin = Math.PI / 180;

/** mm. A corner or mark this near to the fold lies on it, and corners and marks of both sides this near are one. Ours. */
export const onFoldReach = 2;
export const sidePairReach = 12;

/** mm. A click this far from the outline still means the outline, for a notch. */
export const notchReach = 10;

/** mm. A corner named this near to a point of the outline is that point. */
export const cornerSnap = 0.01;

/** Lens term of `PictureView`. How far those of telephones and small cameras usually lie from 0. Common practice, no source. */
export const cameraLens = 0.05;

/** mm. How far the middle of a cut edge of paper, lying flat, bows unless it shows more: standard deviation. Our own assumption. */
export const paperBulge = 0.005;

/** Ratio of the blur. How far a camera's tone curve may move every edge of a bright sheet outward: standard deviation. Computed. */
export const outwardShift = 0.08;

/** Dots. How well a marked place is clicked under a magnifier, in each direction: standard deviation. Our own assumption. */
export const clickedDot = 0.7;

/** Ratio. How well a flat scanner keeps the scale it states: standard deviation. Our own assumption. */
export const scanScaleError = 0.0005;

/** mm. A sheet's edge that bows more than this in its middle, lens apart, does not lie flat; a fold or curl shows far more. Ours. */
export const sheetNotFlat = 0.4;

/** Lens term of `PictureView`. Beyond this it is no camera's lens but a curled sheet; four times the usual spread. */
export const strongestLens = 0.2;

/** mm. Places by which pictures are joined lie at least this far apart; a mark 0.2 mm off then turns a metre by 4 mm at most. */
export const joinSpan = 50;

/** Ratio. Shared places may differ by this between two pictures; more means a wrong mark or a wrong sheet. */
export const joinScale = 0.005;

/** mm. A blend with a leg shorter than this leaves the corner as it is; smaller cannot be cut. */
export const shortestBlend = 1;

/** mm. A centre line whose points lie this near to one line is straight; half a hairline. */
export const straightEdge = 0.05;

/** mm. Width of filled-in cloth at the centre line above which more slash lines are advised. Ours. */
export const centreFillAdvice = 15;

/** mm. A centre strip may reach this far over the centre line before the lost width is worth a word; a pencil line. */
export const centreOvershoot = 0.5;

/** mm. Largest distance of a fair hem from the strips' hems before more spans are advised. Ours: half of careful trueing's 1/8 in is 1.6, and both ends of the hem share it. */
export const hemDeviationLimit = 3;

// --- marking ---

/** mm. A dart whose mouth is narrower takes up less cloth than the thread of its seam. Ours. */
export const narrowestDart = 2;

/** mm. Legs of a dart that differ by more leave a step one can see where they are closed; half a pencil line. Ours. */
export const legsDiffer = 0.5;

/** radians. A corner in a seam of less than 3 degrees goes by itself when the curve is drawn. Ours. */
export const roundedCorner = (3 * Math.PI) / 180;

/** mm. A point this far inside an edge names the panel beside it; far above rounding, far below any strip. */
export const besideEdge = 0.01;

/** mm. An edge whose dart was closed is not drawn anew further from where it lay than this; it would be another edge. Ours. */
export const dartEdgeMoves = 15;

/** mm. An edge drawn anew that is longer or shorter by less keeps its length; a tenth of a pencil line. Ours. */
export const keptLength = 0.05;

/** mm. An edge that bows more than this between the legs of a dart is no mouth that may run straight. Ours. */
export const dartMouthBow = 5;

// --- verdicts on a version ---

/** mm. Two sewn edges this near in length match. Ours; careful trueing is 1/16 in (Threads no. 200), this is below it. */
export const seamMatch = 1;

/** mm. Up to here the difference is within careful trueing: 1/16 in (Threads no. 200). */
export const seamClose = 1.6;

/** mm. Up to here the difference works for many: 1/8 in (Threads no. 200); beyond it the seam fails. */
export const seamWarn = 3.2;

/** Ratio. A hem that has to be eased in by no more at its fullest place turns up plainly. Ours. */
export const plainHemLimit = 0.02;

/** Ratio. A hem that has to be eased in by no more can be sewn narrow and eased; beyond it, faced. Ours. */
export const easedHemLimit = 0.06;

/** mm. A hem sweep found by search is reached when it is this near; far below any ruler. */
export const sweepReached = 1e-7;
