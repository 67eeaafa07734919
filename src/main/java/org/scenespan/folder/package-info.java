/**
 * The hot-folder edge: noticing whole files, pairing raw and JPEG, reading pixels and metadata.
 * Layer 5: imports downward only and none of its siblings; the photographer's files are only ever
 * read, and pixels never leave this package.
 */
package org.scenespan.folder;
