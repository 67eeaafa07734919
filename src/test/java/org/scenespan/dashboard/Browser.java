package org.scenespan.dashboard;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.logging.Level;
import java.util.logging.Logger;
import javax.imageio.ImageIO;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.Rectangle;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;
import org.openqa.selenium.support.ui.WebDriverWait;
import org.scenespan.Needs;

/** A real Chromium, driven by what its user sees: roles and names. */
final class Browser implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(15);
  private static final Logger SELENIUM_LOG = Logger.getLogger("org.openqa.selenium");

  private final ChromeDriver driver;
  private final Path artefacts;

  Browser(Path profile) throws IOException {
    SELENIUM_LOG.setLevel(Level.SEVERE);
    ChromeOptions options = new ChromeOptions();
    options.setBinary(Needs.tool("browser", "chromium").toString());
    options.addArguments(
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-dev-shm-usage",
        "--hide-scrollbars",
        "--user-data-dir=" + profile);
    LoggingPreferences logs = new LoggingPreferences();
    logs.enable(LogType.BROWSER, Level.ALL);
    logs.enable(LogType.PERFORMANCE, Level.ALL);
    options.setCapability(ChromeOptions.LOGGING_PREFS, logs);
    driver =
        new ChromeDriver(
            new ChromeDriverService.Builder()
                .usingDriverExecutable(Needs.tool("browser", "chromedriver").toFile())
                .build(),
            options);
    artefacts = Path.of(System.getProperty("scenespan.artefacts", "target/artefacts"));
    Files.createDirectories(artefacts);
  }

  void open(String address) {
    driver.get(address);
  }

  /** Runs a script at the beginning of each page that is opened from now on. */
  void beforeEachPage(String script) {
    driver.executeCdpCommand("Page.addScriptToEvaluateOnNewDocument", Map.of("source", script));
  }

  /** Sets the size of what is seen, CSS pixels. */
  void resize(int width, int height) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 500));
  }

  /** Reports what the device prefers, as its settings would. */
  void prefer(String feature, String value) {
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of("features", List.of(Map.of("name", feature, "value", value))));
  }

  /** The one element that is seen with this role and name; waits for it. */
  WebElement named(String role, String name) {
    WebElement[] found = new WebElement[1];
    await(
        role + " named " + name, () -> (found[0] = first(likely(role, name), role, name)) != null);
    return found[0];
  }

  /** Those whose name may hold the words, so that the browser is asked for the names of few. */
  @SuppressWarnings("unchecked")
  private List<WebElement> likely(String role, String name) {
    return (List<WebElement>) run(LIKELY, selectorOf(role), name);
  }

  private static final String LIKELY =
      "const plain = text => (text ?? '').replace(/\\s+/g, ' ').trim();"
          + "const named = ids => (ids ?? '').split(' ').map(id => document.getElementById(id)?.textContent);"
          + "return [...document.querySelectorAll(arguments[0])].filter(e => e.checkVisibility()"
          + " && plain([e.textContent, e.ariaLabel, e.alt, e.title,"
          + " ...[...(e.labels ?? [])].map(l => l.textContent),"
          + " ...named(e.getAttribute('aria-labelledby'))].join(' ')).includes(plain(arguments[1])))";

  boolean has(String role, String name) {
    return find(role, name) != null;
  }

  private WebElement find(String role, String name) {
    return first(driver.findElements(By.cssSelector(selectorOf(role))), role, name);
  }

  private static WebElement first(List<WebElement> elements, String role, String name) {
    for (WebElement element : elements) {
      if (element.isDisplayed()
          && element.getAriaRole().equals(role)
          && element.getAccessibleName().equals(name)) {
        return element;
      }
    }
    return null;
  }

  private static String selectorOf(String role) {
    return switch (role) {
      case "button" -> "button";
      case "radio" -> "input[type=radio]";
      case "checkbox" -> "input[type=checkbox]";
      case "slider" -> "input[type=range]";
      case "heading" -> "h1, h2";
      case "region" -> "section";
      case "image" -> "img";
      case "dialog" -> "dialog";
      default -> "[role=" + role + "]";
    };
  }

  /** Clicks where the sticky foot does not lie over it. */
  void click(WebElement element) {
    run("arguments[0].scrollIntoView({block: 'center'})", element);
    element.click();
  }

  String title() {
    return plain(driver.getTitle());
  }

  /** The text that is seen in a region, with plain spaces. */
  String textIn(String region) {
    return plain(named("region", region).getText());
  }

  String text(By by) {
    return plain(driver.findElement(by).getText());
  }

  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }

  void await(String what, BooleanSupplier condition) {
    new WebDriverWait(driver, PATIENCE)
        .pollingEvery(Duration.ofMillis(50))
        .withMessage(what)
        .ignoring(org.openqa.selenium.StaleElementReferenceException.class)
        .until(any -> condition.getAsBoolean());
  }

  Object run(String script, Object... arguments) {
    return driver.executeScript(script, arguments);
  }

  List<WebElement> all(String selector) {
    return driver.findElements(By.cssSelector(selector));
  }

  WebElement focused() {
    return driver.switchTo().activeElement();
  }

  void press(CharSequence keys) {
    focused().sendKeys(keys);
  }

  /** Keeps what is seen as a picture. */
  void keep(String name) throws IOException {
    Files.write(artefacts.resolve(name + ".png"), driver.getScreenshotAs(OutputType.BYTES));
  }

  /** An element as it is seen. */
  BufferedImage look(WebElement element) {
    run("arguments[0].scrollIntoView({block: 'center'})", element);
    try {
      return ImageIO.read(new ByteArrayInputStream(element.getScreenshotAs(OutputType.BYTES)));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Drags from one place of an element to another, in parts of its size, as a hand would. */
  void drag(WebElement element, double fromX, double fromY, double toX, double toY) {
    Rectangle area = element.getRect();
    Actions hand = new Actions(driver);
    hand.moveToElement(element, offset(fromX, area.width), offset(fromY, area.height));
    hand.clickAndHold();
    for (int i = 1; i <= 4; i++) {
      double part = i / 4.0;
      hand.moveToElement(
          element,
          offset(fromX + part * (toX - fromX), area.width),
          offset(fromY + part * (toY - fromY), area.height));
    }
    hand.release().perform();
  }

  private static int offset(double part, int size) {
    return (int) Math.round((part - 0.5) * size);
  }

  /** Cuts the network of this browser, or mends it. */
  void offline(boolean cut) {
    driver.executeCdpCommand("Network.enable", Map.of());
    driver.executeCdpCommand(
        "Network.emulateNetworkConditions",
        Map.of("offline", cut, "latency", 0, "downloadThroughput", -1, "uploadThroughput", -1));
  }

  /**
   * What a user of the page would stumble over, by the rules of WCAG 2.2 A and AA and the usual
   * good practice, as axe-core finds it.
   */
  @SuppressWarnings("unchecked")
  List<String> stumblingBlocks() {
    if (Boolean.TRUE.equals(run("return window.axe === undefined"))) {
      try (InputStream script = Browser.class.getResourceAsStream("/axe.min.js")) {
        run(new String(script.readAllBytes(), StandardCharsets.UTF_8));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    run(
        // Every rule looks at everything; only of what is wrong each place is described.
        "window.found = null; axe.run({resultTypes: ['violations']}).then(it => window.found ="
            + " it.violations.flatMap(v => v.nodes.map(n => v.id + ': ' + n.target.join(' ') + ' ' + (n.any[0]?.message ??"
            + " n.all[0]?.message ?? ''))))");
    await("axe", () -> Boolean.TRUE.equals(run("return window.found !== null")));
    return (List<String>) run("return window.found");
  }

  /** The same in each theme; the last one stays. */
  List<String> stumblingBlocksInEveryTheme() {
    List<String> all = new ArrayList<>();
    for (String theme : List.of("day", "dark", "night")) {
      run("document.documentElement.dataset.theme = arguments[0]", theme);
      stumblingBlocks().forEach(each -> all.add(theme + ": " + each));
    }
    return all;
  }

  /** Lets pages opened from now on run scripts, or not. */
  void allowScripts(boolean allowed) {
    driver.executeCdpCommand("Emulation.setScriptExecutionDisabled", Map.of("value", !allowed));
  }

  /** What the page complained of since the last call. */
  List<String> complaints() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .map(LogEntry::getMessage)
        .toList();
  }

  /** What of some parts of the page, by their selectors, sends other light than red, or none. */
  List<String> notRedAlone(String... parts) {
    List<String> wrong = new ArrayList<>();
    for (String part : parts) {
      BufferedImage seen = look(all(part).get(0));
      int stray = 0;
      int red = 0;
      for (int pixel :
          seen.getRGB(0, 0, seen.getWidth(), seen.getHeight(), null, 0, seen.getWidth())) {
        stray = Math.max(stray, pixel & 0xffff);
        red = Math.max(red, pixel >> 16 & 0xff);
      }
      if (stray > 0) {
        wrong.add("green or blue in " + part);
      }
      if (red <= 128) {
        wrong.add(part + " is blank");
      }
    }
    return wrong;
  }

  /** Everything that the page's network told since the last call. */
  List<String> network() {
    return driver.manage().logs().get(LogType.PERFORMANCE).getAll().stream()
        .map(LogEntry::getMessage)
        .toList();
  }

  @Override
  public void close() {
    driver.quit();
  }
}
