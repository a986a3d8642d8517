import type { Method, Operation } from './operations';
import type { Call, OperationRow, Outcome } from './row';
import {
  isOutside,
  kindOf,
  placeIn,
  relationTo,
  ROLES,
  TARGETS,
  type RoleName,
  type TargetName,
} from './world';

/** One cell of the matrix: who asks for whose, and how it has to end. */
export interface Cell {
  role: RoleName;
  target: TargetName;
  expected: Outcome;
}

const ownOf = (role: RoleName): TargetName => (role.startsWith('far-') ? 'far' : 'adult');

const whereTo = (row: OperationRow, role: RoleName): readonly TargetName[] => {
  if (row.about === 'target') return TARGETS;
  return row.about === 'program' ? ['adult', 'far'] : [ownOf(role)];
};

const relationOf = (row: OperationRow, role: RoleName, target: TargetName) => {
  if (row.about === 'target') return relationTo(role, target);
  return row.about === 'program' ? placeIn(role, target) : kindOf(role);
};

function expectedOf(operation: Operation, row: OperationRow, role: RoleName, target: TargetName): Outcome {
  const single = row.except?.[role]?.[target];
  if (single) return single;
  if (isOutside(role)) return row.outside ?? (operation.kind === 'page' ? 'sign-in' : 'not-signed-in');
  return row.may[relationOf(row, role, target)] ?? row.refusedByKind?.[kindOf(role)] ?? row.refused;
}

/** The cells of an operation: every role with every target that the row is about. */
export const cellsOf = (operation: Operation, row: OperationRow): Cell[] =>
  ROLES.flatMap((role) =>
    whereTo(row, role).map((target) => ({
      role,
      target,
      expected: expectedOf(operation, row, role, target),
    })),
  );

/** Whether nothing may be changed by a call that ends like this. */
export const isRefusal = (outcome: Outcome): boolean => outcome !== 'ok';

/** A cell whose call is ready to be made. */
export interface Prepared extends Cell {
  call: Call;
  cookie: string | undefined;
  headers?: Record<string, string>;
  /** Instead of the operation's own. */
  method?: Method;
}
