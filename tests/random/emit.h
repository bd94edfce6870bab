/* SPDX-License-Identifier: MIT */
/* Emit: a job written as the files that a person would write (docs/files.md). */
#ifndef RANDOM_EMIT_H
#define RANDOM_EMIT_H

#include "exhaustive.h"

typedef enum { FILE_BOOK, FILE_RULES, FILE_SHOP, FILE_UNIT, FILE_WANT, FILE_COUNT } FileKind;

const char *file_kind_name (FileKind kind); /* "book.yaml" */
/* One file of the job. Transfer full. */
char *emit_file (const Job *job, FileKind kind);
/* All of them as the documents of one file, after a comment that says what is expected. Transfer full. */
char *emit_case (const Job *job, const Answer *answer, guint64 seed);
/* "claim proved shortest, steps 5, insertions 2, minutes 31.5", as in the header of a kept case. Transfer full. */
char *emit_expectation (const Answer *answer);
/* A move in words. Transfer full. */
char *emit_move (const Play *play, const Move *move);

/* emit_book.c, emit_rules.c, emit_unit.c */
void emit_unit (GString *out, const Job *job);
void emit_book (GString *out, const Job *job);
void emit_rules (GString *out, const Job *job);
/* A condition as text. Transfer full. */
char *emit_cond (const Job *job, const Cond *cond);
void emit_tenths (GString *out, int tenths);
/* "[a, b]" of the names whose bits are set. */
void emit_bits (GString *out, unsigned bits, int count, const char *(*name) (int) );

/* The name of a socket, a memory type, a method, by number. */
const char *socket_name (int socket);
const char *memory_type_name (int type);
const char *way_name_at (int way);

#endif
