/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-words-private.h"

#include "exchange-number.h"

#include <string.h>

typedef struct
{
  const char  *text;
  ExchangeWord word;
} Entry;

/* Trade use; common practice, no source. In lower case, without signs at the end. */
static const Entry row_words[] = {
  { "nominal", EXCHANGE_WORD_NOMINAL },       { "nominal value", EXCHANGE_WORD_NOMINAL },
  { "target", EXCHANGE_WORD_NOMINAL },        { "soll", EXCHANGE_WORD_NOMINAL },
  { "sollwert", EXCHANGE_WORD_NOMINAL },      { "sollmaß", EXCHANGE_WORD_NOMINAL },
  { "nennmaß", EXCHANGE_WORD_NOMINAL },       { "nominell", EXCHANGE_WORD_NOMINAL },
  { "lsl", EXCHANGE_WORD_LOWER },             { "lower", EXCHANGE_WORD_LOWER },
  { "lower limit", EXCHANGE_WORD_LOWER },     { "lower spec", EXCHANGE_WORD_LOWER },
  { "lower tolerance", EXCHANGE_WORD_LOWER }, { "usg", EXCHANGE_WORD_LOWER },
  { "ugw", EXCHANGE_WORD_LOWER },             { "untere grenze", EXCHANGE_WORD_LOWER },
  { "untergrenze", EXCHANGE_WORD_LOWER },     { "mindestmaß", EXCHANGE_WORD_LOWER },
  { "usl", EXCHANGE_WORD_UPPER },             { "upper", EXCHANGE_WORD_UPPER },
  { "upper limit", EXCHANGE_WORD_UPPER },     { "upper spec", EXCHANGE_WORD_UPPER },
  { "upper tolerance", EXCHANGE_WORD_UPPER }, { "osg", EXCHANGE_WORD_UPPER },
  { "ogw", EXCHANGE_WORD_UPPER },             { "obere grenze", EXCHANGE_WORD_UPPER },
  { "obergrenze", EXCHANGE_WORD_UPPER },      { "höchstmaß", EXCHANGE_WORD_UPPER },
  { "min", EXCHANGE_WORD_MIN },               { "minimum", EXCHANGE_WORD_MIN },
  { "max", EXCHANGE_WORD_MAX },               { "maximum", EXCHANGE_WORD_MAX },
  { "limits", EXCHANGE_WORD_LIMITS },         { "limit", EXCHANGE_WORD_LIMITS },
  { "spec", EXCHANGE_WORD_LIMITS },           { "specification", EXCHANGE_WORD_LIMITS },
  { "tolerance", EXCHANGE_WORD_LIMITS },      { "tol", EXCHANGE_WORD_LIMITS },
  { "requirement", EXCHANGE_WORD_LIMITS },    { "grenzen", EXCHANGE_WORD_LIMITS },
  { "grenzwerte", EXCHANGE_WORD_LIMITS },     { "toleranz", EXCHANGE_WORD_LIMITS },
  { "forderung", EXCHANGE_WORD_LIMITS },      { "vorgabe", EXCHANGE_WORD_LIMITS },
  { "unit", EXCHANGE_WORD_UNIT },             { "units", EXCHANGE_WORD_UNIT },
  { "unit of measure", EXCHANGE_WORD_UNIT },  { "einheit", EXCHANGE_WORD_UNIT },
  { "class", EXCHANGE_WORD_CLASS },           { "klasse", EXCHANGE_WORD_CLASS },
  { "code", EXCHANGE_WORD_CODE },             { "characteristic no", EXCHANGE_WORD_CODE },
  { "merkmal nr", EXCHANGE_WORD_CODE },       { "mean", EXCHANGE_WORD_SUMMARY },
  { "average", EXCHANGE_WORD_SUMMARY },       { "avg", EXCHANGE_WORD_SUMMARY },
  { "sd", EXCHANGE_WORD_SUMMARY },            { "std", EXCHANGE_WORD_SUMMARY },
  { "st.dev", EXCHANGE_WORD_SUMMARY },        { "std dev", EXCHANGE_WORD_SUMMARY },
  { "stdev", EXCHANGE_WORD_SUMMARY },         { "std. dev", EXCHANGE_WORD_SUMMARY },
  { "standard deviation", EXCHANGE_WORD_SUMMARY }, { "sigma", EXCHANGE_WORD_SUMMARY },
  { "s", EXCHANGE_WORD_SUMMARY },             { "range", EXCHANGE_WORD_SUMMARY },
  { "median", EXCHANGE_WORD_SUMMARY },        { "count", EXCHANGE_WORD_SUMMARY },
  { "n", EXCHANGE_WORD_SUMMARY },             { "sum", EXCHANGE_WORD_SUMMARY },
  { "total", EXCHANGE_WORD_SUMMARY },         { "cp", EXCHANGE_WORD_SUMMARY },
  { "cpk", EXCHANGE_WORD_SUMMARY },           { "cv", EXCHANGE_WORD_SUMMARY },
  { "mittel", EXCHANGE_WORD_SUMMARY },        { "mittelwert", EXCHANGE_WORD_SUMMARY },
  { "standardabweichung", EXCHANGE_WORD_SUMMARY }, { "streuung", EXCHANGE_WORD_SUMMARY },
  { "anzahl", EXCHANGE_WORD_SUMMARY },        { "summe", EXCHANGE_WORD_SUMMARY },
  { "spannweite", EXCHANGE_WORD_SUMMARY },    { "x̄", EXCHANGE_WORD_SUMMARY },
  { "ø", EXCHANGE_WORD_SUMMARY },             { "failed", EXCHANGE_WORD_SUMMARY },
};

static const Entry column_words[] = {
  { "serial", EXCHANGE_WORD_SERIAL },         { "serial no", EXCHANGE_WORD_SERIAL },
  { "serial number", EXCHANGE_WORD_SERIAL },  { "s/n", EXCHANGE_WORD_SERIAL },
  { "sn", EXCHANGE_WORD_SERIAL },             { "ser", EXCHANGE_WORD_SERIAL },
  { "unit no", EXCHANGE_WORD_SERIAL },        { "unit", EXCHANGE_WORD_SERIAL },
  { "bag", EXCHANGE_WORD_SERIAL },            { "bag no", EXCHANGE_WORD_SERIAL },
  { "seriennummer", EXCHANGE_WORD_SERIAL },   { "serien-nr", EXCHANGE_WORD_SERIAL },
  { "sample", EXCHANGE_WORD_SERIAL },         { "piece", EXCHANGE_WORD_SERIAL },
  { "specimen", EXCHANGE_WORD_SERIAL },       { "muster", EXCHANGE_WORD_SERIAL },
  { "teil", EXCHANGE_WORD_SERIAL },           { "teil-nr", EXCHANGE_WORD_SERIAL },
  { "stück", EXCHANGE_WORD_SERIAL },          { "id", EXCHANGE_WORD_SERIAL },
  { "no", EXCHANGE_WORD_RUNNING },            { "nr", EXCHANGE_WORD_RUNNING },
  { "number", EXCHANGE_WORD_RUNNING },        { "#", EXCHANGE_WORD_RUNNING },
  { "pos", EXCHANGE_WORD_RUNNING },           { "item", EXCHANGE_WORD_RUNNING },
  { "lfd. nr", EXCHANGE_WORD_RUNNING },       { "date", EXCHANGE_WORD_DATE },
  { "datum", EXCHANGE_WORD_DATE },            { "measured on", EXCHANGE_WORD_DATE },
  { "day", EXCHANGE_WORD_DATE },              { "tag", EXCHANGE_WORD_DATE },
  { "taken", EXCHANGE_WORD_DATE },            { "by", EXCHANGE_WORD_PERSON },
  { "measured by", EXCHANGE_WORD_PERSON },    { "inspector", EXCHANGE_WORD_PERSON },
  { "operator", EXCHANGE_WORD_PERSON },       { "initials", EXCHANGE_WORD_PERSON },
  { "person", EXCHANGE_WORD_PERSON },         { "who", EXCHANGE_WORD_PERSON },
  { "checked by", EXCHANGE_WORD_PERSON },     { "prüfer", EXCHANGE_WORD_PERSON },
  { "kürzel", EXCHANGE_WORD_PERSON },         { "attempt", EXCHANGE_WORD_ATTEMPT },
  { "try", EXCHANGE_WORD_ATTEMPT },           { "versuch", EXCHANGE_WORD_ATTEMPT },
  { "repeat", EXCHANGE_WORD_REPEAT },         { "rep", EXCHANGE_WORD_REPEAT },
  { "reading no", EXCHANGE_WORD_REPEAT },     { "trial", EXCHANGE_WORD_REPEAT },
  { "wiederholung", EXCHANGE_WORD_REPEAT },   { "remark", EXCHANGE_WORD_REMARK },
  { "remarks", EXCHANGE_WORD_REMARK },        { "comment", EXCHANGE_WORD_REMARK },
  { "comments", EXCHANGE_WORD_REMARK },       { "note", EXCHANGE_WORD_REMARK },
  { "notes", EXCHANGE_WORD_REMARK },          { "observations", EXCHANGE_WORD_REMARK },
  { "bemerkung", EXCHANGE_WORD_REMARK },      { "bemerkungen", EXCHANGE_WORD_REMARK },
  { "anmerkung", EXCHANGE_WORD_REMARK },      { "notiz", EXCHANGE_WORD_REMARK },
  { "result", EXCHANGE_WORD_VERDICT },        { "overall", EXCHANGE_WORD_VERDICT },
  { "overall result", EXCHANGE_WORD_VERDICT }, { "verdict", EXCHANGE_WORD_VERDICT },
  { "ergebnis", EXCHANGE_WORD_VERDICT },      { "gesamt", EXCHANGE_WORD_VERDICT },
  { "lot", EXCHANGE_WORD_LOT },               { "lot no", EXCHANGE_WORD_LOT },
  { "batch", EXCHANGE_WORD_LOT },             { "charge", EXCHANGE_WORD_LOT },
  { "revision", EXCHANGE_WORD_LOT },          { "variant", EXCHANGE_WORD_LOT },
};

static const Entry title_words[] = {
  { "model", EXCHANGE_WORD_MODEL },           { "product", EXCHANGE_WORD_MODEL },
  { "modell", EXCHANGE_WORD_MODEL },          { "produkt", EXCHANGE_WORD_MODEL },
  { "tool", EXCHANGE_WORD_MODEL },            { "round", EXCHANGE_WORD_ROUND },
  { "runde", EXCHANGE_WORD_ROUND },           { "prototype round", EXCHANGE_WORD_ROUND },
  { "date", EXCHANGE_WORD_DATE },             { "datum", EXCHANGE_WORD_DATE },
  { "measured on", EXCHANGE_WORD_DATE },      { "by", EXCHANGE_WORD_PERSON },
  { "measured by", EXCHANGE_WORD_PERSON },    { "inspector", EXCHANGE_WORD_PERSON },
  { "prüfer", EXCHANGE_WORD_PERSON },         { "initials", EXCHANGE_WORD_PERSON },
};

static ExchangeWord
look_up (const Entry *entries, guint n, const char *text)
{
  g_autofree char *lower = g_utf8_strdown (exchange_text_skip_spaces (text), -1);
  gsize length = strlen (lower);

  while (length > 1 && strchr (".: ?", lower[length - 1]) != NULL)
    lower[--length] = '\0';
  for (guint i = 0; i < n; i++)
    if (strcmp (lower, entries[i].text) == 0)
      return entries[i].word;
  return EXCHANGE_WORD_NONE;
}

ExchangeWord
exchange_word_of_row (const char *text)
{
  return look_up (row_words, G_N_ELEMENTS (row_words), text);
}

ExchangeWord
exchange_word_of_column (const char *text)
{
  return look_up (column_words, G_N_ELEMENTS (column_words), text);
}

ExchangeWord
exchange_word_of_title (const char *text)
{
  return look_up (title_words, G_N_ELEMENTS (title_words), text);
}
