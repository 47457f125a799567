/* What the program asks of its board. */

#ifndef BOARD_H
#define BOARD_H

/* Sends a character. */
void board_send(char character);

#endif
