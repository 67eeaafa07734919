package org.scenespan.proof.report;

import java.io.Writer;
import java.util.Locale;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * Elements, attributes and text of an HTML page with SVG in it; what needs escaping is escaped. A
 * name or a trigger's words with control characters in them get question marks in their place.
 */
final class Markup {
  private final XMLStreamWriter out;

  Markup(Writer writer) {
    try {
      out = XMLOutputFactory.newInstance().createXMLStreamWriter(writer);
      out.writeDTD("<!DOCTYPE html>");
    } catch (XMLStreamException failed) {
      throw new Unwritten(failed);
    }
  }

  /** The page cannot be written any further. */
  static final class Unwritten extends RuntimeException {
    private static final long serialVersionUID = 1;

    Unwritten(XMLStreamException cause) {
      super(cause.getMessage(), cause.getNestedException() == null ? cause : cause);
    }
  }

  /** Something that fills an element. */
  interface Content {
    void write();
  }

  /**
   * An element with content.
   *
   * @param attributes names and values in turn
   */
  void in(String name, String[] attributes, Content content) {
    try {
      out.writeStartElement(name);
      attributes(attributes);
      content.write();
      out.writeEndElement();
    } catch (XMLStreamException failed) {
      throw new Unwritten(failed);
    }
  }

  void in(String name, Content content) {
    in(name, new String[0], content);
  }

  /** An element with a text in it. */
  void text(String name, String text, String... attributes) {
    in(name, attributes, () -> words(text));
  }

  /** An element that has no content. */
  void empty(String name, String... attributes) {
    try {
      out.writeEmptyElement(name);
      attributes(attributes);
    } catch (XMLStreamException failed) {
      throw new Unwritten(failed);
    }
  }

  /** A text of its own. */
  void words(String text) {
    try {
      out.writeCharacters(printable(text));
    } catch (XMLStreamException failed) {
      throw new Unwritten(failed);
    }
  }

  void close() {
    try {
      out.writeEndDocument();
      out.flush();
    } catch (XMLStreamException failed) {
      throw new Unwritten(failed);
    }
  }

  private void attributes(String... attributes) throws XMLStreamException {
    for (int i = 0; i < attributes.length; i += 2) {
      out.writeAttribute(attributes[i], printable(attributes[i + 1]));
    }
  }

  private static String printable(String text) {
    return text.replaceAll("[\\x00-\\x09\\x0b-\\x1f\\x7f-\\x9f\\ufffe\\uffff]", "?");
  }

  /** A coordinate of a drawing. */
  static String at(double value) {
    return String.format(Locale.ROOT, "%.1f", value);
  }
}
