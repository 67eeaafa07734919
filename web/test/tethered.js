/** Records of a tether for tests. */

export const LEVELS = {
  exposureStops: { warn: 0.1, alarm: 0.2 },
  colour: { warn: 0.02, alarm: 0.04 },
  clipping: { warn: 0.002, alarm: 0.01 },
  sharpness: { warn: 0.3, alarm: 0.5 },
};

export const opened = () => [
  "session-opened",
  { kind: "tether", session: "studio", source: "camera", folder: "frames", trigger: "", levels: LEVELS, mostFrames: 0 },
];

/** A frame that landed: as the reference, unless something is given for it. */
export const frame = (index, given = {}) => [
  "frame-watched",
  {
    index,
    ...(index === 1
      ? {}
      : {
          deviation: {
            against: given.against ?? "F_1.JPG",
            exposure: given.exposure ?? 0.02,
            whole: given.exposure ?? 0.02,
            redToGreen: given.redToGreen ?? 0.004,
            blueToGreen: given.blueToGreen ?? -0.012,
            patch: { left: 0.4, top: 0.4, width: 0.1, height: 0.1 },
            patchSeen: true,
          },
        }),
    findings: given.findings ?? [],
    frame: {
      file: `F_${index}.JPG`,
      preview: `preview-F_${index}.JPG.jpg`,
      mask: `mask-F_${index}.JPG.png`,
      shutterSeconds: 0.008,
      aperture: 8,
      iso: 100,
      ev: 13,
      clippedFraction: { red: 0.001, green: 0, blue: 0, any: 0.001 },
      sharpness: given.sharpness ?? 0.01,
      histogramStops: { from: -16, binsPerStop: 6, counts: [] },
    },
  },
];

export const warning = () => ({
  exposure: -0.15,
  findings: [{ kind: "exposure", weight: "warning", amount: -0.15, words: "The patch is 0.15 stops darker." }],
});

export const alarm = () => ({
  exposure: -1.6,
  findings: [{ kind: "misfire", weight: "alarm", amount: -1.6, words: "The whole frame is 1.6 stops darker." }],
});
