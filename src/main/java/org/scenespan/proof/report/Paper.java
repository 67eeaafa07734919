package org.scenespan.proof.report;

/** How the page looks, on a screen and on A4. */
final class Paper {
  /** It stands in an element whose text is not unescaped: no character of markup may be in it. */
  static final String STYLE =
      """
      @page { size: A4; margin: 16mm 14mm; }
      * { box-sizing: border-box; }
      body { margin: 0 auto; padding: 1.5rem; max-width: 50rem; background: #fff; color: #14181a;
        font: 15px/1.45 system-ui, sans-serif; }
      h1 { margin: 0 0 .4rem; font-size: 1.5rem; font-weight: 600; overflow-wrap: anywhere; }
      h2 { margin: 1.8rem 0 .5rem; padding-top: .4rem; border-top: 1px solid #14181a;
        font-size: 1.05rem; font-weight: 600; break-after: avoid; }
      p { margin: .3rem 0; }
      .outcome { font-size: 1.1rem; }
      .foot { margin-top: 2rem; color: #4a5356; font-size: .85rem; }
      table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
      th, td { padding: .2rem .5rem .2rem 0; border-bottom: 1px solid #c9ced0; text-align: left;
        vertical-align: top; overflow-wrap: anywhere; font-size: .87rem; }
      th { font-weight: 600; }
      .facts th { width: 30%; color: #4a5356; font-weight: 400; }
      thead { display: table-header-group; }
      tr, figure, .frame { break-inside: avoid; }
      figure { margin: 1rem 0; }
      figure svg { display: block; width: 100%; height: auto; }
      figcaption { color: #4a5356; font-size: .87rem; }
      text { font: 11px system-ui, sans-serif; fill: #4a5356; }
      path { fill: none; }
      .grid { stroke: #e0e3e4; }
      .ground { stroke: #8a9194; }
      .edge { stroke: #14181a; stroke-dasharray: 5 4; }
      .thin { stroke: #14181a; stroke-width: 1; }
      .thick { stroke: #14181a; stroke-width: 2.4; }
      .dotted { stroke: #14181a; stroke-dasharray: 1.5 2.5; }
      .told circle, circle.told { fill: #14181a; }
      .reach { fill: #d3dcde; stroke: #14181a; stroke-width: .8; }
      .counts { fill: #59666a; }
      .sheet { display: grid; grid-template-columns: repeat(4, 1fr); gap: .8rem .7rem; }
      .frame { font-size: .78rem; overflow-wrap: anywhere; }
      .frame p { margin: .1rem 0; }
      .frame .title { font-weight: 600; }
      .frame img { display: block; width: 100%; border: 1px solid #c9ced0; }
      .frame svg { display: block; width: 100%; border-bottom: 1px solid #8a9194; }
      .frame.told { outline: 2px solid #14181a; outline-offset: 3px; }
      .none { padding: 1.6rem .3rem; border: 1px dashed #8a9194; }
      ol.told { margin: 0; padding: 0; list-style: none; }
      ol.told li { padding: .12rem 0 .12rem 5.2rem; text-indent: -5.2rem; font-size: .87rem; }
      time { display: inline-block; width: 5.2rem; text-indent: 0; color: #4a5356;
        font-variant-numeric: tabular-nums; }
      @media print { body { padding: 0; max-width: none; font-size: 10pt; } }
      @media (max-width: 40rem) { .sheet { grid-template-columns: repeat(2, 1fr); } }
      """;

  private Paper() {}
}
