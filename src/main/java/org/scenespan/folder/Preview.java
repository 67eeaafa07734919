package org.scenespan.folder;

import java.awt.image.BufferedImage;

/**
 * A small picture of a frame and a mask of the same size, both upright.
 *
 * @param picture sRGB
 * @param mask transparent but for clipped and crushed pixels, see {@link PreviewPainter}
 */
record Preview(BufferedImage picture, BufferedImage mask) {}
