/**
 * A decoder of our own for the JPEG files that cameras write: baseline, 8 bits, Huffman codes
 * (ITU-T T.81), codes by one thread at a time and all else by several, bit for bit equal to
 * libjpeg's accurate integer transform, triangle up-sampling and fixed-point colours. Whatever it
 * does not know or doubts it refuses, and the caller takes the plain path. Part of the room {@code
 * folder}; knows bytes and rows only.
 */
package org.scenespan.folder.jpeg;
