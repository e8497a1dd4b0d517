package tappet.network;

import java.util.Arrays;

/** Whole numbers in the order they came, without boxing: the stepper's notes. */
final class IntStack {

  private int[] items = new int[16];
  private int size;

  void push(int item) {
    if (size == items.length) {
      items = Arrays.copyOf(items, size * 2);
    }
    items[size++] = item;
  }

  int pop() {
    return items[--size];
  }

  int get(int index) {
    return items[index];
  }

  int size() {
    return size;
  }

  boolean isEmpty() {
    return size == 0;
  }

  void clear() {
    size = 0;
  }
}
