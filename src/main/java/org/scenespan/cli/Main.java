package org.scenespan.cli;

/** The program's entry. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    System.out.println("scenespan");
  }
}
