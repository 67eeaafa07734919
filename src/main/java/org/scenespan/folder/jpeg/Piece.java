package org.scenespan.folder.jpeg;

/**
 * Some blocks of a row of coded units.
 *
 * @param from first block, counted in the row
 * @param to behind the last one
 * @param local number of the first block in the chunk
 * @param dc what each component's DC in the chunk lacks
 * @param brokenUpTo the last block of the chunk that is not to be used
 */
record Piece(Chunk chunk, int from, int to, int local, int[] dc, int brokenUpTo) {}
