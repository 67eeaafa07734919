/**
 * The HTTP edge: the page's files, the feed of the journal's records, what the photographer asks
 * for. Layer 5: imports only what lies below, never a sibling; what it needs of the journal, the
 * session and the previews comes in through {@link org.scenespan.dashboard.Records}, {@link
 * org.scenespan.dashboard.Acts} and {@link org.scenespan.dashboard.Pictures}.
 */
package org.scenespan.dashboard;
