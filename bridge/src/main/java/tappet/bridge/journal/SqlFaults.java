package tappet.bridge.journal;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** What an SQL exception means to an owner. */
final class SqlFaults {

  /** The low byte of an extended result code is its primary one (sqlite.org/rescode.html, §3). */
  private static final int PRIMARY = 0xFF;

  private SqlFaults() {}

  /** Whether the file is damaged, or no database at all. */
  static boolean isDamage(SQLException fault) {
    SQLiteErrorCode code = primary(fault);
    return code == SQLiteErrorCode.SQLITE_CORRUPT || code == SQLiteErrorCode.SQLITE_NOTADB;
  }

  /** The same fault in an owner's words. */
  static IOException inWords(Path file, SQLException fault) {
    return new IOException(words(file, fault), fault);
  }

  private static String words(Path file, SQLException fault) {
    return switch (primary(fault)) {
      case SQLITE_FULL -> "the disk is full";
      case SQLITE_READONLY -> file + " may only be read";
      case SQLITE_CANTOPEN -> file + " cannot be opened";
      case SQLITE_BUSY, SQLITE_LOCKED -> "another program holds " + file;
      case SQLITE_IOERR -> "the disk fails: " + fault.getMessage();
      case SQLITE_CORRUPT -> file + " is damaged";
      case SQLITE_NOTADB -> file + " is no journal";
      default -> fault.getMessage();
    };
  }

  private static SQLiteErrorCode primary(SQLException fault) {
    int code =
        fault instanceof SQLiteException told ? told.getResultCode().code : fault.getErrorCode();
    return SQLiteErrorCode.getErrorCode(code & PRIMARY);
  }
}
