"""stub"""
from parts.record import Record
def write(record: Record) -> str:
    return ""
