/**
 * How pictures are packed: bytes in, samples out. Layer 5, a part of the hot-folder edge; opens no
 * files, and imports nothing but the JDK.
 */
package org.scenespan.folder.codec;
