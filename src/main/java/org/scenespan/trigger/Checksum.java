package org.scenespan.trigger;

/**
 * What is sent behind a message so that the other side can tell whether it came whole. The CRCs are
 * those of the catalogue of parametrised CRC algorithms (G. Cook,
 * reveng.sourceforge.io/crc-catalogue).
 */
public enum Checksum {
  NONE(0),
  /** All bytes exclusive-ored. */
  XOR(1),
  /** CRC-16/IBM-3740, also called CCITT-FALSE: polynomial 0x1021, from 0xFFFF; high byte first. */
  CRC16_CCITT_FALSE(2),
  /** CRC-16/MODBUS: polynomial 0x8005 reflected, from 0xFFFF; low byte first. */
  CRC16_MODBUS(2);

  private static final int CCITT_POLYNOMIAL = 0x1021;

  /** 0x8005 with its bits in the other order. */
  private static final int MODBUS_REFLECTED = 0xA001;

  private static final int ALL_ONES = 0xFFFF;

  private final int length;

  Checksum(int length) {
    this.length = length;
  }

  /** How many bytes it has. */
  int length() {
    return length;
  }

  /** The number itself. */
  int of(byte[] message) {
    return switch (this) {
      case NONE -> 0;
      case XOR -> xor(message);
      case CRC16_CCITT_FALSE -> ccitt(message);
      case CRC16_MODBUS -> modbus(message);
    };
  }

  /** Its bytes in the order in which they are sent. */
  byte[] bytesOf(byte[] message) {
    int sum = of(message);
    return switch (this) {
      case NONE -> new byte[0];
      case XOR -> new byte[] {(byte) sum};
      case CRC16_CCITT_FALSE -> new byte[] {(byte) (sum >> 8), (byte) sum};
      case CRC16_MODBUS -> new byte[] {(byte) sum, (byte) (sum >> 8)};
    };
  }

  private static int xor(byte[] message) {
    int sum = 0;
    for (byte value : message) {
      sum ^= value & 0xff;
    }
    return sum;
  }

  private static int ccitt(byte[] message) {
    int crc = ALL_ONES;
    for (byte value : message) {
      crc ^= (value & 0xff) << 8;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 0x8000) != 0 ? (crc << 1) ^ CCITT_POLYNOMIAL : crc << 1;
      }
      crc &= ALL_ONES;
    }
    return crc;
  }

  private static int modbus(byte[] message) {
    int crc = ALL_ONES;
    for (byte value : message) {
      crc ^= value & 0xff;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 1) != 0 ? (crc >> 1) ^ MODBUS_REFLECTED : crc >> 1;
      }
    }
    return crc;
  }
}
