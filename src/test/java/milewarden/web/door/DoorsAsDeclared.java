package milewarden.web.door;

import milewarden.people.Role;

/** What the table of routes says, for the test that walks them. */
public final class DoorsAsDeclared {
  private DoorsAsDeclared() {}

  /** {@code open}, a role's code, or {@code nobody} where nothing is declared. */
  public static String of(String route) {
    return Doors.isOpen(route) ? "open" : Doors.needs(route).map(Role::code).orElse("nobody");
  }
}
