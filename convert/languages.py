"""English names of languages, for sentences.  The codes are those of BCP 47 (ISO 639)."""

from __future__ import annotations

_NAMES = {
    "af": "Afrikaans", "ang": "Old English", "ar": "Arabic", "arc": "Aramaic", "bg": "Bulgarian",
    "bn": "Bengali", "br": "Breton", "bs": "Bosnian", "ca": "Catalan", "cs": "Czech",
    "cy": "Welsh", "da": "Danish", "de": "German", "el": "modern Greek", "en": "English",
    "eo": "Esperanto", "es": "Spanish", "et": "Estonian", "eu": "Basque", "fa": "Persian",
    "fi": "Finnish", "fr": "French", "frm": "Middle French", "fro": "Old French", "fy": "Frisian",
    "ga": "Irish", "gd": "Scottish Gaelic", "gl": "Galician", "grc": "ancient Greek",
    "gu": "Gujarati", "gv": "Manx", "haw": "Hawaiian", "he": "Hebrew", "hi": "Hindi",
    "hr": "Croatian", "hu": "Hungarian", "hy": "Armenian", "id": "Indonesian", "is": "Icelandic",
    "it": "Italian", "ja": "Japanese", "ka": "Georgian", "ko": "Korean", "kw": "Cornish",
    "la": "Latin", "lb": "Luxembourgish", "lt": "Lithuanian", "lv": "Latvian", "mi": "Māori",
    "mk": "Macedonian", "ms": "Malay", "mt": "Maltese", "nb": "Norwegian Bokmål", "nl": "Dutch",
    "nn": "Norwegian Nynorsk", "no": "Norwegian", "non": "Old Norse", "pa": "Punjabi",
    "pl": "Polish", "pt": "Portuguese", "ro": "Romanian", "ru": "Russian", "sa": "Sanskrit",
    "sco": "Scots", "sk": "Slovak", "sl": "Slovenian", "so": "Somali", "sq": "Albanian",
    "sr": "Serbian", "sv": "Swedish", "sw": "Swahili", "ta": "Tamil", "te": "Telugu",
    "th": "Thai", "tl": "Tagalog", "tr": "Turkish", "uk": "Ukrainian", "ur": "Urdu",
    "vi": "Vietnamese", "xh": "Xhosa", "yi": "Yiddish", "zh": "Chinese", "zu": "Zulu",
}  # fmt: skip


def language_name(tag: str) -> str:
    """``Latin`` for ``la``, ``German (de-AT)`` for ``de-AT``; the tag itself where it has no name
    here."""
    name = _NAMES.get(tag.partition("-")[0].lower())
    if name is None:
        return f"the language {tag}"
    return f"{name} ({tag})" if "-" in tag else name
