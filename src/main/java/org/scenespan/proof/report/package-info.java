/** A session's report on paper: one HTML page that needs nothing beside it. */
package org.scenespan.proof.report;
