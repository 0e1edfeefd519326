"""Currencies and time zones that a price list may name."""

from __future__ import annotations

from functools import cache
from zoneinfo import available_timezones

# Source: ISO 4217, active codes by minor unit; from memory, checked against no copy of the list.
_TWO = """
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP
    CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES
    KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MKD MMK MNT MOP MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD
    PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT
    TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD XCG YER ZAR ZMW ZWG
"""
_OTHER = """
    BHD BIF CLF CLP DJF GNF IQD ISK JOD JPY KMF KRW KWD LYD MGA MRU OMR PYG RWF TND UGX UYI UYW VND VUV XAF XOF XPF
"""
TWO_DECIMALS = frozenset(_TWO.split())
OTHER_DECIMALS = frozenset(_OTHER.split())


@cache
def time_zones() -> frozenset[str]:
    """Names of the IANA time zone database that this machine has."""
    return frozenset(available_timezones())
