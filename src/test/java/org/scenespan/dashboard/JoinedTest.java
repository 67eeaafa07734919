package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.ValueSource;

class JoinedTest {
  static final Iterable<String> SCRIPTS = PageFiles.SCRIPTS;
  static final Iterable<String> SHEETS = PageFiles.SHEETS;

  private static String script(String main, Map<String, String> others) {
    return Joined.script("main.js", name -> name.equals("main.js") ? main : others.get(name));
  }

  @Test
  void aModuleStandsOnceBeforeThoseThatImportIt() {
    String joined =
        script(
            """
            import { b } from "./views/b.js";
            import { a as first, c } from "./a.js";
            await b(first, c);
            export const end = 1;
            """,
            Map.of(
                "views/b.js",
                """
                import * as all from "../a.js";
                export async function b() {
                  return all.a;
                }
                """,
                "a.js",
                "export const a = 1;\nexport function c() {}\nconst own = 2;\n"));
    assertEquals(
        """
        // a.js
        const $2 = (() => {
        const a = 1;
        function c() {}
        const own = 2;

        return { a, c };
        })();
        // views/b.js
        const $1 = (() => {
        const all = $2;
        async function b() {
          return all.a;
        }

        return { b };
        })();
        const { b } = $1;
        const { a: first, c } = $2;
        await b(first, c);
        const end = 1;
        """,
        joined);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "import whole from \"./a.js\";",
        "import \"./a.js\";",
        "import { a } from './a.js';",
        "import { a } from \"elsewhere\";",
        "export default 1;",
        "export let a = 1;",
        "export { a };",
        "export * from \"./a.js\";",
        "export class A {}",
        "const late = () => import(\"./a.js\");",
        "const here = import.meta.url;",
        "import { none } from \"./a.js\";",
        "  import { a } from \"./a.js\";",
        "const b = 1; export const c = 2;",
        "export const a$ = 1;",
      })
  void anyOtherFormIsRefused(String line) {
    Map<String, String> others = Map.of("a.js", "export const a = 1;\n");
    assertThrows(IllegalArgumentException.class, () -> script(line + "\n", others), line);
  }

  @Test
  void onlyTheScriptItselfMayAwaitAtTheTopLevel() {
    String main = "import { a } from \"./a.js\";\nawait a();\n";
    script(main, Map.of("a.js", "export async function a() {\n  await 1;\n}\n"));
    assertThrows(
        IllegalArgumentException.class,
        () -> script(main, Map.of("a.js", "export const a = await 1;\n")));
  }

  @Test
  void modulesThatImportEachOtherAreRefused() {
    Map<String, String> others =
        Map.of(
            "a.js", "import { b } from \"./b.js\";\nexport const a = 1;\n",
            "b.js", "import { a } from \"./a.js\";\nexport const b = 1;\n");
    assertThrows(
        IllegalArgumentException.class, () -> script("import { a } from \"./a.js\";\n", others));
  }

  /** Whether they run is seen by the tests in a browser, each page of which is joined. */
  @ParameterizedTest
  @FieldSource("SCRIPTS")
  void thePagesOwnScriptsAreOfTheForm(String name) {
    String joined = Joined.script(name, PageFiles::text);
    assertTrue(joined.contains("// dom.js\n"), "what all of them import");
    assertEquals(joined.indexOf("// dom.js\n"), joined.lastIndexOf("// dom.js\n"), "once");
  }

  @ParameterizedTest
  @FieldSource("SHEETS")
  void thePagesOwnSheetsBeginWithTheThemes(String name) {
    String joined = Joined.sheet(name, PageFiles::text);
    assertFalse(Pattern.compile("@import").matcher(joined).find());
    assertTrue(joined.startsWith(PageFiles.text("styles/themes.css")));
    assertTrue(joined.contains(PageFiles.text("styles/page.css")));
  }

  @Test
  void aSheetStandsAfterThoseThatItImports() {
    Map<String, String> sheets =
        Map.of(
            "styles/all.css", "@import \"a.css\";\n@import \"b.css\";\nc {}\n",
            "styles/a.css", "a {}\n",
            "styles/b.css", "b {}\n",
            "styles/late.css", "c {}\n@import \"a.css\";\n");
    assertEquals("a {}\n\nb {}\n\nc {}\n", Joined.sheet("styles/all.css", sheets::get));
    assertThrows(
        IllegalArgumentException.class, () -> Joined.sheet("styles/late.css", sheets::get));
  }
}
