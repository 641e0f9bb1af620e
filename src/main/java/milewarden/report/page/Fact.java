package milewarden.report.page;

/**
 * A name, a value and a remark: one line of a page's list of facts.
 *
 * @param name what it is
 * @param value its words or its rounded figure with the unit
 * @param remark what the reader should know beside it, empty where nothing
 */
public record Fact(String name, String value, String remark) {}
